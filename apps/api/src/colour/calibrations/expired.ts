import type { SqlExecutor } from '../../db/client.ts';
import { readDrifts } from './drift.ts';
import { readApproved } from './queries.ts';

/** Approved calibrations whose law readings have left, the longest expired first. */
export async function readExpired(
  execute: SqlExecutor,
): Promise<
  { id: number; code: string; revision: number; name: string; author: string; expiredAt: string }[]
> {
  const approved = await readApproved(execute, null);
  const drifts = await readDrifts(execute, approved);
  return approved
    .flatMap(({ id, code, revision, name, author }) => {
      const expiredAt = drifts.get(id)?.expiredAt ?? null;
      return expiredAt === null ? [] : [{ id, code, revision, name, author, expiredAt }];
    })
    .toSorted((one, other) => one.expiredAt.localeCompare(other.expiredAt));
}
