import type { CouponSeries, CouponSeriesItem } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readPhotos } from './photos.ts';
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
export async function readCouponSeries(execute: SqlExecutor, id: number): Promise<CouponSeries> {
  const row = orNotFound(await queries.readSeries(execute, id), `coupon series ${id}`);
  const revisions = await queries.readRevisions(execute, row.code);
  return {
    ...toItem(row),
    writers: row.writers,
    endedAt: iso(row.endedAt),
    endReason: row.endReason,
    trials: (await queries.readTrials(execute, [id])).get(id) ?? [],
    photos: await readPhotos(execute, id),
    revisions: revisions.map((one) => ({
      id: one.id,
      revision: one.revision,
      status: one.status,
      changeNote: one.changeNote,
    })),
  };
}
