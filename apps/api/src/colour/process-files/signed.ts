import { createHash } from 'node:crypto';
import { processSectionNames, type ProcessFile, type ProcessSection } from '@huelot/contracts';
import { canonicalJson } from './canonical.ts';

export const digestOf = (section: unknown): string =>
  createHash('sha256').update(canonicalJson(section), 'utf8').digest('hex');

/** The digest of every section, in the order in which people read them. */
export const digestsOf = (sections: Pick<ProcessFile, ProcessSection>) =>
  Object.fromEntries(processSectionNames.map((name) => [name, digestOf(sections[name])])) as Record<
    ProcessSection,
    string
  >;

/** What is signed: the head of the file, and the digest of every section. */
export const signedBytes = (
  { format, version, exportedAt, shop }: Pick<ProcessFile, 'format' | 'version' | 'exportedAt' | 'shop'>,
  digests: Record<string, string>,
): Buffer => Buffer.from(canonicalJson({ format, version, exportedAt, shop, digests }), 'utf8');
