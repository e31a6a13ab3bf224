import { createHash } from 'node:crypto';
import {
  createRecipe,
  PROCESS_FORMAT,
  PROCESS_VERSION,
  ProcessFile,
  processSectionNames,
  type FieldIssue,
} from '@huelot/contracts';
import { DomainError, fieldError } from '../../kernel/refusal.ts';
import { fingerprintOf, isSignedBy } from '../../kernel/signing-key.ts';
import { digestOf, signedBytes } from './signed.ts';

export interface ReadProcess {
  file: ProcessFile;
  fingerprint: string;
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/**
 * Reads a file of a process: that it is one, that its signature is of its head and digests, that every section is what was
 * digested, and that all of it makes sense here. Refuses by the name of what does not match.
 */
export function readProcess(text: string): ReadProcess {
  const file = parsed(text);
  if (file['format'] !== PROCESS_FORMAT)
    throw fieldError('text', `is no file of a process: its format must be ${PROCESS_FORMAT}`);
  if (file['version'] !== PROCESS_VERSION)
    throw fieldError(
      'text.version',
      `is ${JSON.stringify(file['version'] ?? null)}; this Huelot reads version ${PROCESS_VERSION}`,
    );
  const fingerprint = checkSignature(file);
  const read = ProcessFile.safeParse(file);
  if (!read.success)
    throw refused(
      'The file is signed, and holds what this Huelot does not take',
      read.error.issues.slice(0, 50).map(({ path, message }) => ({
        path: ['text', ...path].join('.'),
        message,
      })),
    );
  checkContents(read.data);
  checkRecipe(read.data);
  return { file: read.data, fingerprint };
}

function parsed(text: string): Record<string, unknown> {
  try {
    const value: unknown = JSON.parse(text);
    if (isObject(value)) return value;
  } catch {
    // Falls through to the refusal: what is no JSON is no file of a process either.
  }
  throw fieldError('text', 'is no file of a process: it is not JSON, or was cut off');
}

/** Refuses what was not signed as it stands, and names every section that was changed since. */
function checkSignature(file: Record<string, unknown>): string {
  const { signature, exportedAt, shop } = file;
  if (!isObject(signature) || !isObject(signature['digests']))
    throw fieldError('text.signature', 'is missing');
  const { publicKey, value, digests } = signature;
  const claimed = digests as Record<string, string>;
  const head = { format: PROCESS_FORMAT, version: PROCESS_VERSION, exportedAt, shop };
  const bytes = signedBytes(head as Parameters<typeof signedBytes>[0], claimed);
  if (typeof publicKey !== 'string' || typeof value !== 'string' || !isSignedBy(publicKey, { bytes, value }))
    throw fieldError(
      'text.signature',
      'does not match: the head of the file, its list of digests, the key or the signature was changed',
    );
  const changed = processSectionNames.filter((name) => claimed[name] !== digestOf(file[name] ?? null));
  if (changed.length > 0)
    throw refused(
      'The file was changed after it was signed',
      changed.map((name) => ({ path: `text.${name}`, message: 'does not match what was signed' })),
    );
  return fingerprintOf(publicKey);
}

function checkContents({ files, evidence, materials, recipe }: ProcessFile): void {
  const issues: FieldIssue[] = [];
  files.forEach(({ content, sha256 }, index) => {
    if (createHash('sha256').update(Buffer.from(content, 'base64')).digest('hex') !== sha256)
      issues.push({ path: `text.files.${index}.content`, message: 'does not match its SHA-256' });
  });
  evidence.forEach(({ kind, series, alloy }, index) => {
    const path = `text.evidence.${index}`;
    if ((kind === 'coupons') !== (series !== null))
      issues.push({ path: `${path}.series`, message: 'must be there for coupons, and for nothing else' });
    if (!recipe.baseMetals.includes(alloy.baseMetal))
      issues.push({
        path: `${path}.alloy`,
        message: `is of ${alloy.baseMetal}, which the recipe is not for`,
      });
    const isThere = materials.some(
      ({ name, condition, baseMetal }) =>
        name === alloy.name && condition === alloy.condition && baseMetal === alloy.baseMetal,
    );
    if (!isThere) issues.push({ path: `${path}.alloy`, message: 'must be among the materials of the file' });
  });
  if (issues.length > 0) throw refused('The file is signed, and does not fit together', issues);
}

/** What a recipe typed by hand would be refused for. */
function checkRecipe({ recipe: { number: _, revision: __, ...head }, steps }: ProcessFile): void {
  const read = createRecipe.body.safeParse({ ...head, changeNote: '', steps });
  if (read.success) return;
  throw refused(
    'The file is signed, and its recipe is none that could be written here',
    read.error.issues.slice(0, 50).map(({ path, message }) => ({
      path: ['text', ...(path[0] === 'steps' ? [] : ['recipe']), ...path].join('.'),
      message,
    })),
  );
}

const refused = (words: string, issues: FieldIssue[]) =>
  new DomainError(
    'invalid-input',
    `${words}: ${issues.map(({ path, message }) => `${path.replace(/^text\./, '')} ${message}`).join('; ')}.`,
    { issues },
  );
