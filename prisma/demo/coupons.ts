import { NewCouponSeries } from '@huelot/contracts';
import type { Db } from '../../apps/api/src/db/client.ts';
import { approveSeries } from '../../apps/api/src/domains/coupons/approval.ts';
import { reviseSeries, startSeries, writeSeries } from '../../apps/api/src/domains/coupons/drafts.ts';
import type { Story } from './backdate.ts';
import { couponBook, written } from './coupon-book.ts';
import { DAY, HOUR } from './job.ts';
import type { Actors } from './people.ts';

/**
 * The coupons that recipes were found with: steel in caustic, whose next revision adds black; titanium in salt; and niobium,
 * which waits for more coupons and for somebody to approve it.
 */
export async function tryCoupons(
  db: Db,
  { actors, story, since }: { actors: Actors; story: Story; since: number },
): Promise<void> {
  const { lena: author, quentin: approver } = actors;
  const rows = await db.prisma.material.findMany({ select: { id: true, name: true } });
  const materialIds = new Map(rows.map(({ id, name }) => [name, id]));
  const daysBefore = (when: number) =>
    [4, 3, 2].map((days) => new Date(when - days * DAY).toISOString().slice(0, 10));
  const typed = (sketch: keyof typeof couponBook, of: { when: number; changeNote?: string }) =>
    NewCouponSeries.parse(
      written(couponBook[sketch], {
        materialIds,
        days: daysBefore(of.when),
        changeNote: of.changeNote ?? '',
      }),
    );
  const start = (sketch: keyof typeof couponBook, when: number) =>
    story.at(when, () => startSeries(db, { actor: author, input: typed(sketch, { when }) }));
  const approve = ({ id, version }: { id: number; version: number }, when: number) =>
    story.at(when, () => approveSeries(db, { actor: approver, id, version }));

  const titanium = await start('titanium', since);
  await approve(titanium, since + 5 * HOUR);
  const steel = await start('steel', since + DAY);
  await approve(steel, since + DAY + 3 * HOUR);

  const later = since + 20 * DAY;
  const changeNote = 'coupons at 86 and 90 °C: black';
  const draft = await story.at(later, () => reviseSeries(db, { actor: author, id: steel.id, changeNote }));
  const { id, version } = draft;
  const input = {
    ...typed('steelWithBlack', { when: later, changeNote }),
    // What was made before stays as it was written.
    trials: [...draft.trials, ...typed('steelWithBlack', { when: later }).trials.slice(draft.trials.length)],
  };
  const full = await story.at(later + HOUR, () => writeSeries(db, { actor: author, id, version, input }));
  await approve(full, later + 6 * HOUR);

  await start('niobium', Date.now() - 3 * DAY);
}
