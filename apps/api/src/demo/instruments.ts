import type { CalibrationPoint, Instrument, StepQuantity } from '@huelot/contracts';
import type { Db } from '../db/client.ts';
import { addInstrument, recordCalibration, setPlaces } from '../lab/instruments/index.ts';
import type { Timeline } from './backdate.ts';
import type { Equipment } from './equipment.ts';
import type { Actors } from './people.ts';

const DAY = 86_400_000;
const YEAR = 365 * DAY;
const dayOf = (when: number) => new Date(when).toISOString().slice(0, 10);

interface Shop {
  db: Db;
  actors: Actors;
  story: Timeline;
}
interface Gauge {
  code: string;
  name: string;
  kind: Instrument['kind'];
  serial: string;
  reads: StepQuantity[];
  tanks?: string[];
  supply?: keyof Equipment['supplies'];
  unit: string;
  tolerance: number;
  uncertainty: number;
  reference: string;
  /** True value and error as found of each point. */
  points: [reference: number, error: number][];
}

const platinum = 'platinum thermometer of the lab';
const shunt = 'reference multimeter with shunt';
/* Instruments of the invented shop: names, numbers and errors are made up. */
const gauges: Gauge[] = [
  {
    ...{ code: 'TH-1', name: 'Thermometer at the cleaner', kind: 'thermometer', serial: 'K 2281' },
    ...{ reads: ['temperatureC'], tanks: ['T1'], unit: '°C', tolerance: 1, uncertainty: 0.2 },
    reference: platinum,
    points: [
      [40, 0.1],
      [60, 0.3],
    ],
  },
  {
    ...{ code: 'TH-4', name: 'Thermometer at the colour tank', kind: 'thermometer', serial: 'K 2284' },
    ...{ reads: ['temperatureC'], tanks: ['T4'], unit: '°C', tolerance: 0.5, uncertainty: 0.1 },
    reference: platinum,
    points: [
      [15, -0.1],
      [25, 0.2],
    ],
  },
  {
    ...{ code: 'TH-6', name: 'Thermometer at the hot caustic', kind: 'thermometer', serial: 'K 2286' },
    ...{ reads: ['temperatureC'], tanks: ['T6'], unit: '°C', tolerance: 2, uncertainty: 0.4 },
    reference: platinum,
    points: [
      [100, 0.4],
      [140, 0.9],
    ],
  },
  {
    ...{ code: 'VM-1', name: 'Meters of the valve-metal supply', kind: 'electrical-meter', serial: '70417' },
    ...{ reads: ['voltageV', 'currentA'], supply: 'valve', unit: 'V', tolerance: 0.5, uncertainty: 0.05 },
    reference: shunt,
    points: [
      [20, 0.05],
      [60, -0.1],
      [110, -0.2],
    ],
  },
  {
    ...{ code: 'TG-1', name: 'Eddy current gauge', kind: 'thickness-gauge', serial: '11-930' },
    ...{ reads: [], unit: 'µm', tolerance: 1, uncertainty: 0.3, reference: 'foils on bare aluminium' },
    points: [
      [12.1, 0.2],
      [49.8, -0.4],
    ],
  },
  {
    ...{ code: 'BAL-1', name: 'Analytical balance', kind: 'balance', serial: 'A 5502' },
    ...{ reads: [], unit: 'g', tolerance: 0.0005, uncertainty: 0.0001, reference: 'weights of class E2' },
    points: [
      [10, 0.0001],
      [100, -0.0002],
    ],
  },
];
const references = { [platinum]: 'PT-2025-118', [shunt]: 'DMM-2025-044' } as Record<string, string>;

/** Meters and gauges of the shop, where they read, and the calibration that each had when the shop opened. */
export async function seedInstruments(
  { db, actors, story }: Shop,
  { equipment, since }: { equipment: Equipment; since: number },
): Promise<Map<string, number>> {
  const ids = new Map<string, number>();
  await story.at(since, async () => {
    for (const gauge of gauges) {
      const { code, name, kind, serial } = gauge;
      const added = await addInstrument(db, {
        actor: actors.lena,
        input: { code, name, kind, serial, calibrationDueOn: null, notes: '' },
      });
      const { id, version } = added;
      ids.set(code, id);
      const places = gauge.reads.flatMap((quantity) => [
        ...(gauge.tanks ?? []).map((tank) => ({
          ...{ quantity, supplyId: null, tankId: equipment.tankIds.get(tank) ?? null },
        })),
        ...(gauge.supply ? [{ quantity, tankId: null, supplyId: equipment.supplies[gauge.supply] }] : []),
      ]);
      if (places.length > 0) await setPlaces(db, { actor: actors.lena, id, version, input: { places } });
      for (const yearsAgo of [2, 1, 0])
        await calibrate(
          { db, actors },
          { id, gauge, doneAt: since - yearsAgo * YEAR, factor: 1 - yearsAgo / 3 },
        );
    }
  });
  return ids;
}

/** The thermometer at the hot caustic fell: it reads far too high since nobody knows when, and could not be put right. */
export async function failThermometer(
  { db, actors, story }: Shop,
  instrumentIds: ReadonlyMap<string, number>,
): Promise<void> {
  const gauge = gauges.find(({ code }) => code === 'TH-6');
  const id = instrumentIds.get('TH-6');
  if (gauge === undefined || id === undefined) throw new Error('the demo has no thermometer to fail');
  const doneAt = Date.now() - DAY;
  await story.at(doneAt, () => calibrate({ db, actors }, { id, gauge, doneAt, factor: 4 }));
}

const calibrate = (
  { db, actors }: Pick<Shop, 'db' | 'actors'>,
  { id, gauge, doneAt, factor }: { id: number; gauge: Gauge; doneAt: number; factor: number },
) =>
  recordCalibration(db, {
    ...{ actor: actors.lena, id },
    input: {
      ...{ doneOn: dayOf(doneAt), nextDueOn: dayOf(doneAt + YEAR), doneBy: 'Lena Frost' },
      ...{ certificateNumber: `${gauge.code}/${dayOf(doneAt).slice(0, 4)}`, reference: gauge.reference },
      referenceCertificate: references[gauge.reference] ?? 'REF-2025-007',
      points: gauge.points.map(([reference, error]): CalibrationPoint => ({
        ...{
          reference,
          tolerance: gauge.tolerance,
          expandedUncertainty: gauge.uncertainty,
          unit: gauge.unit,
        },
        ...{
          asFound: Number((reference + error * factor).toFixed(gauge.tolerance < 0.01 ? 4 : 2)),
          asLeft: null,
        },
      })),
      ...{ note: '', fileId: null, replaces: null },
    },
  });
