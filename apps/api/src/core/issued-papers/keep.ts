import { createHash } from 'node:crypto';
import type { Tx } from '../../db/client.ts';
import * as queries from './queries.ts';

interface Issue extends queries.PaperOf {
  title: string;
  fileName: string;
  units: 'metric' | 'us';
  issuedById: number;
  issuedAt: Date;
  /** Everything the paper shows. The same again is the same paper, not a further issue. */
  shows: object;
  /** Draws issue number `issue`. */
  draw: (issue: number) => Promise<Buffer>;
}

const sha256 = (bytes: Buffer | string) => createHash('sha256').update(bytes).digest();

/**
 * Keeps a paper as the next issue of its record, unless the last one shows the same: then that one is returned, to the
 * byte, and nothing is `added`. Call it with the record locked, in the transaction that issues.
 *
 * @example
 * const { paper } = await keepPaper(tx, { kind: 'quotation', recordId, title, fileName, units, issuedById, issuedAt, shows, draw });
 */
export async function keepPaper(
  tx: Tx,
  { shows, draw, ...record }: Issue,
): Promise<{ paper: queries.PaperRow; added: boolean }> {
  const shownSha256 = sha256(JSON.stringify(shows));
  const last = await queries.readLastPaper(tx, record);
  if (last !== null && shownSha256.equals(last.shownSha256)) return { paper: last, added: false };
  const issue = (last?.issue ?? 0) + 1;
  const bytes = await draw(issue);
  const paper = await queries.addPaper(tx, { ...record, issue, shownSha256, sha256: sha256(bytes), bytes });
  return { paper, added: true };
}
