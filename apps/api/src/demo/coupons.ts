import { NewCouponSeries } from '@huelot/contracts';
import type { Db } from '../db/client.ts';
import { approveSeries, reviseSeries, startSeries, writeSeries } from '../colour/coupons/index.ts';
import type { Timeline } from './backdate.ts';
import { couponBook, written } from './coupon-book.ts';
import { DAY, HOUR } from './job.ts';
import type { Actors } from './people.ts';

/**
 * The coupons that recipes were found with: steel in caustic, whose next revision adds black; titanium and niobium in salt;
 * aluminium anodized and dyed; and titanium grade 5, which waits for more coupons and for somebody to approve it.
 */
export async function seedCoupons(
  db: Db,
  { actors, story, since }: { actors: Actors; story: Timeline; since: number },
): Promise<void> {
  const { lena: author, quentin: approver } = actors;
  const rows = await db.prisma.material.findMany({ select: { id: true, name: true } });
  const materialIds = new Map(rows.map(({ id, name }) => [name, id]));
  const daysBefore = (when: number) =>
    [4, 3, 2].map((days) => new Date(when - days * DAY).toISOString().slice(0, 10));
  const typed = (
    sketch: keyof typeof couponBook,
    { when, changeNote }: { when: number; changeNote?: string },
  ) =>
    NewCouponSeries.parse(
      written(couponBook[sketch], {
        materialIds,
        days: daysBefore(when),
        changeNote: changeNote ?? '',
      }),
    );
  const start = (sketch: keyof typeof couponBook, when: number) =>
    story.at(when, () => startSeries(db, { actor: author, input: typed(sketch, { when }) }));
  const approve = ({ id, version }: { id: number; version: number }, when: number) =>
    story.at(when, () => approveSeries(db, { actor: approver, id, version }));

  const titanium = await start('titanium', since);
  await approve(titanium, since + 5 * HOUR);
  for (const [index, sketch] of (['layered', 'niobium', 'aluminium', 'dye'] as const).entries()) {
    const when = since + (index + 1) * HOUR;
    await approve(await start(sketch, when), when + HOUR / 2);
  }
  const steel = await start('steel', since + 6 * HOUR);
  await approve(steel, since + 8 * HOUR);

  const later = since + 10 * HOUR;
  const changeNote = 'coupons at 86 and 90 °C: black';
  const draft = await story.at(later, () => reviseSeries(db, { actor: author, id: steel.id, changeNote }));
  const { id, version } = draft;
  const input = {
    ...typed('steelWithBlack', { when: later, changeNote }),
    // What was made before stays as it was written.
    trials: [...draft.trials, ...typed('steelWithBlack', { when: later }).trials.slice(draft.trials.length)],
  };
  const full = await story.at(later + HOUR, () => writeSeries(db, { actor: author, id, version, input }));
  await approve(full, later + 3 * HOUR);

  await start('grade5', Date.now() - 3 * DAY);
}
