import { createHmac } from 'node:crypto';
import type { Link } from './link-queries.ts';

/**
 * HMAC-SHA-256 over parts of which each is preceded by its length in bytes, as 8 bytes, so that no two different lists
 * are the same bytes.
 *
 * @example
 * keyedDigest(key, ['ab', 'c']); // differs from ['a', 'bc']
 */
export function keyedDigest(key: Buffer, parts: readonly (string | Buffer)[]): Buffer {
  const hmac = createHmac('sha256', key);
  for (const part of parts) {
    const bytes = typeof part === 'string' ? Buffer.from(part, 'utf8') : part;
    const length = Buffer.alloc(8);
    length.writeBigUInt64BE(BigInt(bytes.length));
    hmac.update(length).update(bytes);
  }
  return hmac.digest();
}

/** What a record holds, without its key, so that two records whose contents changed places are recognised. */
export const digestOfContent = (
  key: Buffer,
  {
    tableName,
    part,
    columns,
    content,
  }: { tableName: string; part: string; columns: readonly string[]; content: string },
): Buffer => keyedDigest(key, ['content', tableName, part, ...columns, content]);

/** An entry with the digest of the one before it, which binds them. */
export const digestOfLink = (key: Buffer, before: Buffer, link: Omit<Link, 'digest'>): Buffer =>
  keyedDigest(key, [
    ...['entry', before, String(link.position), link.tableName, link.part, String(link.recordId)],
    ...[link.linkedAt.toISOString(), link.keyId, link.contentDigest],
  ]);

/** What stands before the first entry. */
export const beginning = Buffer.alloc(32);
