import {
  citeCouponSeries,
  type CouponTrial,
  NewCouponSeries,
  TrialPlan,
  type TrialRun,
} from '@huelot/contracts';
import type { Db } from '../db/client.ts';
import { approveSeries, readCouponSeries, startSeries, writeSeries } from '../colour/coupons/index.ts';
import { citeSeries } from '../colour/evidence/index.ts';
import {
  liftTrialStrip,
  noteTrialReading,
  permitTrialRun,
  planTrialRun,
  signTrial,
  takeTrialIn,
  takeTrialOut,
} from '../production/trials/index.ts';
import type { Timeline } from './backdate.ts';
import type { Actors } from './people.ts';

const MINUTE = 60_000;

interface Story {
  db: Db;
  actors: Actors;
  story: Timeline;
}

/**
 * A strip of steel that was lifted out of the caustic by a centimetre a minute, measured band by band, and cited behind the
 * recipe; and coupons of titanium grade 5 that wait at their tank. The colours are made up.
 */
export async function seedTrials(
  { db, actors, story }: Story,
  { recipeRevisionId }: { recipeRevisionId: number },
): Promise<void> {
  const { lena, quentin, omar } = actors;
  const begun = Date.now() - 55 * MINUTE;
  const at = (minutes: number) => begun + minutes * MINUTE;
  const steel = await db.prisma.material.findFirstOrThrow({ where: { name: 'Carbon steel 1075' } });
  const place = await placeFor(db, 'hot-caustic');
  const draft = await story.at(at(0), () =>
    startSeries(db, {
      actor: lena,
      input: NewCouponSeries.parse({
        ...{ code: 'ST-1075-STRIP', name: '1075 in 50 % caustic, a strip', materialId: steel.id },
        ...{ contents: 'hot-caustic', component: 'KOH', unit: 'massFraction', referenceTemperatureC: null },
        preparation: 'Ground to 600, degreased, alkaline clean, rinsed. Steel counter electrode, 80 mm away.',
        ...{ notes: '', changeNote: '', trials: [] },
      }),
    }),
  );
  const run = await story.at(at(1), () =>
    planTrialRun(db, {
      actor: lena,
      input: TrialPlan.parse({
        ...{ seriesId: draft.id, ...place, kind: 'strip', pieces: 8, coatingThicknessUm: null },
        ...{ temperatureC: 52, voltageV: 2.2, timeS: null, intervalS: 60, stepMm: 10 },
        instructions: 'Strip 25 mm wide, 80 mm in the bath. Mark the end that comes out first.',
      }),
    }),
  );
  await runStrip({ db, actors, story }, { run, at });
  const signed = await story.at(at(22), () =>
    signTrial(db, {
      actor: omar,
      id: run.id,
      input: { areaMm2: null, reason: '', note: 'even all along', signer: null },
    }),
  );
  const landed = await readCouponSeries(db.execute, draft.id);
  const { material, ...facts } = landed;
  const read = await story.at(at(35), () =>
    writeSeries(db, {
      actor: lena,
      id: draft.id,
      version: landed.version,
      input: NewCouponSeries.parse({
        ...{ code: facts.code, name: facts.name, materialId: material.id, contents: facts.contents },
        ...{ component: facts.component, unit: facts.unit, referenceTemperatureC: null, notes: '' },
        ...{ preparation: facts.preparation, changeNote: '' },
        trials: landed.trials.map((trial, index) => ({
          ...trial,
          ...bands[index],
          grade: 'measured',
          run: { id: signed.id, piece: index + 1 },
        })),
      }),
    }),
  );
  await story.at(at(42), () => approveSeries(db, { actor: quentin, id: draft.id, version: read.version }));
  await story.at(at(45), () =>
    citeSeries(db, {
      actor: quentin,
      revisionId: recipeRevisionId,
      input: citeCouponSeries.body.parse({
        ...{ seriesId: draft.id, grade: 'measured', comparerIds: [], expiresOn: null },
        note: 'the strip shows the window in time',
      }),
    }),
  );
  const waiting = await db.prisma.couponSeries.findFirstOrThrow({
    where: { code: 'TI-5-TSP', status: 'draft' },
  });
  const salt = await placeFor(db, 'mild-salt');
  await story.at(at(47), () =>
    planTrialRun(db, {
      actor: lena,
      input: TrialPlan.parse({
        ...{ seriesId: waiting.id, ...salt, kind: 'coupons', pieces: 3, coatingThicknessUm: null },
        ...{ temperatureC: 21, voltageV: 30, timeS: 80, intervalS: null, stepMm: null },
        instructions: 'The three that were ground this morning.',
      }),
    }),
  );
  await story.settle();
}

/** A tank of such contents with a bath in it, and the supply beside it. */
async function placeFor(db: Db, contents: string): Promise<{ tankId: number; supplyId: number }> {
  const bath = await db.prisma.bath.findFirstOrThrow({
    where: { contents, dumpedAt: null },
    orderBy: { id: 'asc' },
  });
  const served = await db.prisma.powerSupplyTank.findFirstOrThrow({ where: { tankId: bath.tankId } });
  return { tankId: bath.tankId, supplyId: served.supplyId };
}

/** What came out, by the minutes a band was in. */
const bands: readonly Pick<CouponTrial, 'outcome' | 'lab'>[] = [
  { outcome: 'gold-brown', lab: { L: 58.2, a: 6.4, b: 28.9 } },
  { outcome: 'gold-brown', lab: { L: 51.7, a: 12.8, b: 21.3 } },
  { outcome: 'interference', lab: { L: 45.1, a: 21.6, b: 2.4 } },
  { outcome: 'interference', lab: { L: 41.3, a: 23.9, b: -12.7 } },
  { outcome: 'interference', lab: { L: 38.9, a: 19.8, b: -20.6 } },
  { outcome: 'interference', lab: { L: 37.6, a: 18.1, b: -23.2 } },
  { outcome: 'interference', lab: { L: 37.9, a: 16.4, b: -25.5 } },
  { outcome: 'interference', lab: { L: 38.2, a: 15.7, b: -26.3 } },
];

/** In, a lift every minute, two readings, Out: each stamped when it happened, and put there before it is signed. */
async function runStrip(
  { db, actors: { omar, quentin }, story }: Story,
  { run, at }: { run: TrialRun; at: (minutes: number) => number },
): Promise<void> {
  const { id } = run;
  const stamp = { actor: omar, id, agoS: 0 };
  if (run.bathStatus?.needsOverride)
    await story.at(at(9), () =>
      permitTrialRun(db, { actor: quentin, id, input: { reason: 'a strip, no parts', by: null } }),
    );
  await story.at(at(10), () => takeTrialIn(db, stamp));
  const reading = { temperatureC: 52.1, voltageV: 2.2, currentA: null, pH: null };
  await story.at(at(10.5), () => noteTrialReading(db, { ...stamp, reading }));
  for (const position of [1, 2, 3, 4, 5, 6, 7])
    await story.at(at(10 + position + (position % 2) / 60), () => liftTrialStrip(db, { ...stamp, position }));
  await story.at(at(17.5), () =>
    noteTrialReading(db, { ...stamp, reading: { ...reading, temperatureC: 51.8 } }),
  );
  await story.at(at(18), () => takeTrialOut(db, stamp));
  await story.settle();
}
