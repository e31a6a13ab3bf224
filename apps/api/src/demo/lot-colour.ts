import type { LotColour, NewColourReading } from '@huelot/contracts';
import { viewLotColour, writeReadings } from '../quality/colour-readings/index.ts';
import { releaseLotHold } from '../production/lots/index.ts';
import type { Random } from './chance.ts';
import type { Job, Shop } from './job.ts';

const PLACES = ['front, piece 1', 'back, piece 1', 'front, piece 2'];
const MINUTE = 60_000;

/**
 * Reads the colour of a lot that is done, where its part asks for one: with the instrument where figures were agreed, else
 * two people beside the sample. The lot of a job that drifted is held by its readings, and released with a reason.
 */
export async function readColour(
  { db, actors, equipment, chance, story }: Shop,
  { job, lotId, when }: { job: Job; lotId: number; when: number },
): Promise<void> {
  const { agreed } = await viewLotColour(db, lotId);
  if (agreed === null) return;
  const measured = agreed.target !== null && agreed.tolerance !== null && agreed.conditions !== null;
  const readings = measured
    ? measuredReadings(agreed, { chance, drifts: job.drifts ?? false, instrumentId: equipment.colourMeterId })
    : [comparedReading()];
  const after = await story.at(when, () =>
    writeReadings(db, {
      ...{ actor: actors.ines, lotId, secondId: measured ? null : actors.quentin.personId },
      readOn: new Date(when).toISOString().slice(0, 10),
      input: { readings, fileName: measured && chance.happens(0.5) ? 'reads.csv' : '' },
    }),
  );
  if (!after.readings.some(({ verdict }) => verdict === 'hold')) return;
  await story.at(when + 50 * MINUTE, () =>
    releaseLotHold(db, {
      ...{ actor: actors.quentin, id: lotId },
      input: { reason: 'shown to the customer beside the standard: this lot is taken, the next one is not' },
    }),
  );
}

type Agreed = NonNullable<LotColour['agreed']>;

/** The lot lies off by its own amount; its places scatter about that, as real ones do. */
function measuredReadings(
  { target, tolerance, conditions }: Agreed,
  { chance, drifts, instrumentId }: { chance: Random; drifts: boolean; instrumentId: number },
): NewColourReading[] {
  const off = {
    L: drifts ? 1.35 * (tolerance?.deltaE ?? 0) : chance.near(0, 1.6),
    a: chance.near(0, 2),
    b: chance.near(0, 2),
  };
  const figure = (axis: 'L' | 'a' | 'b') =>
    Number(((target?.[axis] ?? 0) + off[axis] + chance.near(0, 0.8)).toFixed(2));
  return PLACES.map((place) => ({
    ...{ zone: '', place, spot: null, grade: 'measured', spectrum: null, conditions },
    ...{ instrumentId, instrument: '' },
    ...{ lab: { L: figure('L'), a: figure('a'), b: figure('b') }, expandedUncertainty: 0.4 },
    ...{ outcome: null, confirmed: false, note: '' },
  }));
}

const comparedReading = (): NewColourReading => ({
  ...{ zone: '', place: 'three pieces', spot: null, grade: 'compared', lab: null, spectrum: null },
  ...{
    conditions: null,
    instrumentId: null,
    instrument: '',
    expandedUncertainty: null,
    outcome: 'pass',
    confirmed: false,
    note: '',
  },
});
