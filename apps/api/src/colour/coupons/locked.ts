import type { CouponSeries } from '@huelot/contracts';
import type { Tx } from '../../db/client.ts';
import * as queries from './queries.ts';
import { readCouponSeries } from './views.ts';

export const nameOf = ({ code, revision }: { code: string; revision: number }) => `${code} rev ${revision}`;

/** The revision with its series locked, so that nobody approves, saves or drafts beside it. */
export async function readLocked(tx: Tx, id: number): Promise<CouponSeries> {
  await queries.lockSeries(tx.execute, id);
  return readCouponSeries(tx.execute, id);
}
