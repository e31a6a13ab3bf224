import { type CouponSeries, NewCouponSeries } from '@huelot/contracts';
import type { Db } from '../db/client.ts';
import { approveSeries, reviseSeries, startSeries, writeSeries } from '../colour/coupons/index.ts';
import { approveCalibration, startCalibration } from '../colour/calibrations/index.ts';
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

  const titanium = await approve(await start('titanium', since), since + 5 * HOUR);
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
  await calibrate({ titanium, start, approve, db, actors, story });
}

/** Titanium grade 2 is calibrated and approved; of grade 5 the orders are not decided, and a coupon more is wanted. */
async function calibrate({
  titanium,
  start,
  approve,
  db,
  actors: { lena: author, quentin: approver },
  story,
}: {
  titanium: CouponSeries;
  start: (sketch: keyof typeof couponBook, when: number) => Promise<CouponSeries>;
  approve: (series: CouponSeries, when: number) => Promise<CouponSeries>;
  db: Db;
  actors: Actors;
  story: Timeline;
}): Promise<void> {
  const constants = { film: 'TiO2_Franta2015', substrate: 'Ti_Johnson1974', angleDeg: 0, voidFraction: 0 };
  const typed = { ...constants, notes: '', changeNote: '', surface: 'ground to 400, acid etch 2 min' };

  const since = Date.now() - 20 * DAY;
  const position = titanium.trials.findIndex(({ voltageV }) => voltageV === 45) + 1;
  const draft = await story.at(since, () =>
    startCalibration(db, {
      actor: author,
      input: {
        ...{ ...typed, code: 'CAL-TI-2', name: 'Titanium grade 2 in phosphate', seriesIds: [titanium.id] },
        rejected: [
          { seriesId: titanium.id, position, reason: 'was never etched: dull, and thicker than the rest' },
        ],
        counted: null,
      },
    }),
  );
  await story.at(since + 2 * HOUR, () =>
    approveCalibration(db, { actor: approver, id: draft.id, version: draft.version }),
  );

  const lately = Date.now() - 2 * DAY;
  const pink = await approve(await start('grade5Pink', lately), lately + 5 * HOUR);
  await story.at(lately + 6 * HOUR, () =>
    startCalibration(db, {
      actor: author,
      input: {
        ...{ ...typed, code: 'CAL-TI-5', name: 'Titanium grade 5 in phosphate', seriesIds: [pink.id] },
        ...{ rejected: [], counted: null },
      },
    }),
  );
}
