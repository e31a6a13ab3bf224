import { NewPolarizationScan, type ScanFinish } from '@huelot/contracts';
import { keepScan } from '../colour/polarization-scans/index.ts';
import type { Db } from '../db/client.ts';
import type { Timeline } from './backdate.ts';
import { seededRandom } from './chance.ts';
import { DAY } from './job.ts';
import type { Actors } from './people.ts';

interface Sketch {
  finish: ScanFinish;
  specimen: string;
  film: string;
  medium: string;
  /** Ohm cm². */
  resistance: number;
}
const black = 'black of R-00005, rinsed and dried';
const oiled = `${black}, dewatering oil`;
// Made up. That an oil on a porous film cuts the rate about a hundredfold is common practice, no source.
const sketches: readonly Sketch[] = [
  { finish: 'bare', specimen: 'P1', film: '', medium: 'tap water', resistance: 2100 },
  { finish: 'bare', specimen: 'P2', film: '', medium: 'tap water', resistance: 2350 },
  { finish: 'coloured', specimen: 'P3', film: black, medium: 'tap water', resistance: 2500 },
  { finish: 'coloured', specimen: 'P4', film: black, medium: 'tap water', resistance: 2150 },
  { finish: 'coloured-and-oiled', specimen: 'P5', film: oiled, medium: 'tap water', resistance: 210_000 },
  { finish: 'coloured-and-oiled', specimen: 'P6', film: oiled, medium: 'tap water', resistance: 265_000 },
  { finish: 'bare', specimen: 'P7', film: '', medium: '3.5 % NaCl', resistance: 1150 },
  { finish: 'coloured', specimen: 'P8', film: black, medium: '3.5 % NaCl', resistance: 1020 },
  { finish: 'coloured-and-oiled', specimen: 'P9', film: oiled, medium: '3.5 % NaCl', resistance: 88_000 },
];

/** Scans through the corrosion potential of the shop's steel: bare, black, and black with an oil on it. */
export async function seedPolarization(
  db: Db,
  { actors, story, since }: { actors: Actors; story: Timeline; since: number },
): Promise<void> {
  const chance = seededRandom(47);
  const { id: materialId } = await db.prisma.material.findFirstOrThrow({
    where: { name: 'Carbon steel 1075' },
  });
  const areaCm2 = 10;
  for (const [index, { resistance, ...sketch }] of sketches.entries()) {
    const when = since + index * DAY;
    const solutionResistanceOhm = sketch.medium === 'tap water' ? 38 : 1.4;
    const restV = sketch.medium === 'tap water' ? -0.46 : -0.62;
    const ohm = resistance / areaCm2 + solutionResistanceOhm;
    const points = Array.from({ length: 41 }, (_, nth) => {
      const offV = (nth - 20) * 0.001;
      // A real line bends beyond some 10 mV, and no meter is quiet.
      const currentA =
        ((offV + 4 * offV ** 3 * 100) / ohm) * (1 + chance.near(0, 0.01)) + chance.near(0, 2e-5 / ohm);
      return { potentialV: Number((restV + offV).toFixed(4)), currentA: Number(currentA.toPrecision(5)) };
    });
    const input = NewPolarizationScan.parse({
      ...{ ...sketch, materialId, points, solutionResistanceOhm, temperatureC: 22, areaMm2: areaCm2 * 100 },
      ...{ scannedOn: new Date(when).toISOString().slice(0, 10), windowV: 0.01, sternGearyV: 0.026 },
      ...{ equivalentWeight: 27.92, fileName: `${sketch.specimen}.csv`, note: '' },
    });
    await story.at(when, () => keepScan(db, { actor: actors.lena, input, replaces: null }));
  }
}
