import type { CouponSeries, CouponSeriesItem } from '@huelot/contracts';
import type { Run } from '../../db/client.ts';
import { found } from '../../refusal.ts';
import * as queries from './queries.ts';

const iso = (date: Date | null) => date?.toISOString() ?? null;

/** How a list shows a series. */
export const toItem = ({
  endedAt: _at,
  endReason: _why,
  writers: _who,
  ...row
}: queries.SeriesRow): CouponSeriesItem => ({
  ...row,
  createdAt: row.createdAt.toISOString(),
  approvedAt: iso(row.approvedAt),
});

/** One revision with its trials. */
export async function readCouponSeries(run: Run, id: number): Promise<CouponSeries> {
  const row = found(await queries.readSeries(run, id), `coupon series ${id}`);
  const revisions = await queries.readRevisions(run, row.code);
  return {
    ...toItem(row),
    writers: row.writers,
    endedAt: iso(row.endedAt),
    endReason: row.endReason,
    trials: (await queries.readTrials(run, [id])).get(id) ?? [],
    revisions: revisions.map((one) => ({
      id: one.id,
      revision: one.revision,
      status: one.status,
      changeNote: one.changeNote,
    })),
  };
}
