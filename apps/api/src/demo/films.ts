import { Readable } from 'node:stream';
import { type FilmEvidence, NewFilmMeasurement } from '@huelot/contracts';
import { keepMeasurement } from '../colour/film-measurements/index.ts';
import { keepFile } from '../core/files/index.ts';
import type { Db } from '../db/client.ts';
import type { Timeline } from './backdate.ts';
import { type Random, seededRandom } from './chance.ts';
import { type DrawnPicture, drawPores, drawSection } from './film-pictures.ts';
import { DAY } from './job.ts';
import type { Actors } from './people.ts';

type Evidence<K extends FilmEvidence['kind']> = Extract<FilmEvidence, { kind: K }>;
const standard = (value: number) => ({ value, coverageFactor: null });
const expanded = (value: number) => ({ value, coverageFactor: 2 });
const microscope = 'scanning electron microscope, 5 kV';

/** Of a section that was drawn; the bar is known to one part in a hundred, k = 2. */
const section = ({ scale, pairs }: DrawnPicture, lengthUm: number): Evidence<'cross-section'> => ({
  kind: 'cross-section',
  scale: { ...scale, lengthUm, lengthUncertaintyUm: expanded(lengthUm / 100) },
  ...{ edgeUncertaintyPx: standard(1), pairs },
});
const pores = ({ scale, pairs }: DrawnPicture, lengthUm: number): Evidence<'pores'> => ({
  kind: 'pores',
  scale: { ...scale, lengthUm, lengthUncertaintyUm: expanded(lengthUm / 100) },
  ...{ edgeUncertaintyPx: standard(1), pairs, fieldWidthPx: 640, fieldHeightPx: 444 },
});
/** Both faces of 50 by 50 mm, stripped in three cycles. */
const stripped = (filmMg: number, porosity: number): Evidence<'coating-mass'> => {
  const bareG = 38.41275;
  const after = (mg: number) => Number((bareG + mg / 1000).toFixed(5));
  return {
    ...{ kind: 'coating-mass', massBeforeG: after(filmMg), massesAfterG: [0.4, 0.02, 0].map(after) },
    ...{ weighingUncertaintyG: standard(0.00002), blankLossG: 0 },
    ...{ areaMm2: 5000, areaUncertaintyMm2: expanded(60) },
    ...{ densityKgPerM3: 5170, densityUncertaintyKgPerM3: standard(80) },
    ...{ porosity, porosityUncertainty: standard(0.05) },
    stripping: 'inhibited acid, 2 min a cycle at room temperature',
  };
};
const peak = (
  phase: Evidence<'diffraction'>['peaks'][number]['phase'],
  twoThetaDeg: number,
  intensity: number,
) => ({
  ...{ phase, twoThetaDeg, intensity },
  intensityUncertainty: expanded(Number((2 * Math.sqrt(intensity) + 8).toFixed(0))),
});
const diffraction = (peaks: Evidence<'diffraction'>['peaks']): Evidence<'diffraction'> => ({
  ...{ kind: 'diffraction', radiation: 'Cu-Ka', reading: 'area', peaks },
  ...{ referenceRatios: {}, ratioSource: '' },
});

/** Both faces of 50 by 50 mm in phosphoric acid. */
const sealTest = (lostMg: number): Evidence<'seal-loss'> => ({
  ...{ kind: 'seal-loss', massBeforeG: 13.60218, massAfterG: Number((13.60218 - lostMg / 1000).toFixed(5)) },
  ...{ weighingUncertaintyG: standard(0.00005), areaMm2: 5000, areaUncertaintyMm2: expanded(60) },
  ...{ acidTemperatureC: 38, immersionMin: 15, acid: 'phosphoric, dipped in nitric before' },
});

interface Sketch {
  code: string;
  mark: string;
  laboratory: string;
  instrument: string;
  evidence: FilmEvidence;
  picture?: { name: string; png: Buffer };
}

// Made up, as the coupons are: figures of the order that is reported of such films.
function sketches(chance: Random): Sketch[] {
  const outside = { laboratory: 'Northmoor Analytical', instrument: microscope };
  const inside = { laboratory: 'Lena Frost, wet lab', instrument: 'analytical balance' };
  const diffractometer = { laboratory: 'Northmoor Analytical', instrument: 'powder diffractometer' };
  const peacock = { code: 'ST-1075-KOH', mark: 'S9' };
  const black = { code: 'ST-1075-KOH', mark: 'S27' };
  const titanium = { code: 'TI-2-TSP', mark: 'T31' };
  const dyed = (mark: string) => ({ code: 'AL-RED-DYE', mark, ...inside });
  const thin = drawSection({ filmPx: 104, barPx: 320, isPorous: true, chance });
  const surface = drawPores({ barPx: 200, chance });
  const thick = drawSection({ filmPx: 188, barPx: 200, isPorous: true, chance });
  const oxide = drawSection({ filmPx: 120, barPx: 200, isPorous: false, chance });
  return [
    {
      ...peacock,
      ...outside,
      evidence: section(thin, 0.2),
      picture: { name: 'S9-section.png', png: thin.png },
    },
    { ...peacock, ...inside, evidence: stripped(1.28, 0.25) },
    {
      ...peacock,
      ...outside,
      evidence: pores(surface, 0.5),
      picture: { name: 'S9-surface.png', png: surface.png },
    },
    {
      ...{ ...peacock, ...diffractometer },
      evidence: diffraction([peak('magnetite', 35.5, 210), peak('ferrite', 44.7, 9400)]),
    },
    {
      ...black,
      ...outside,
      evidence: section(thick, 2),
      picture: { name: 'S27-section.png', png: thick.png },
    },
    { ...black, ...inside, evidence: stripped(29.1, 0.3) },
    {
      ...{ ...black, ...diffractometer },
      evidence: diffraction([
        ...[peak('magnetite', 30.1, 590), peak('magnetite', 35.4, 1980), peak('magnetite', 62.6, 810)],
        ...[peak('wuestite', 42, 120), peak('ferrite', 44.7, 5200)],
      ]),
    },
    {
      ...titanium,
      ...outside,
      evidence: section(oxide, 0.2),
      picture: { name: 'T31-section.png', png: oxide.png },
    },
    { ...dyed('D11'), evidence: sealTest(6.1) },
    { ...dyed('D12'), evidence: sealTest(14.9) },
    { ...dyed('D15'), evidence: sealTest(21.3) },
    {
      ...{ ...titanium, ...diffractometer },
      evidence: diffraction([
        ...[peak('anatase', 25.3, 60), peak('titanium', 38.4, 1750), peak('titanium', 40.2, 6100)],
      ]),
    },
  ];
}

/** What was measured of the films of two coupons of steel and one of titanium, and of the seals of three of dyed aluminium. */
export async function seedFilms(
  db: Db,
  { actors: { lena: actor }, story, since }: { actors: Actors; story: Timeline; since: number },
): Promise<void> {
  const series = await db.prisma.couponSeries.findMany({
    where: { status: 'approved' },
    select: { id: true, code: true },
  });
  for (const [index, { code, evidence, picture, ...facts }] of sketches(seededRandom(220)).entries()) {
    const when = since + index * DAY;
    await story.at(when, async () => {
      const file =
        picture &&
        (await keepFile(db, {
          ...{ actor, name: picture.name, isCut: () => false },
          content: Readable.from([picture.png], { objectMode: false }),
        }));
      const input = NewFilmMeasurement.parse({
        ...{ ...facts, evidence, note: '', fileId: file?.id ?? null },
        seriesId: series.find((one) => one.code === code)?.id,
        measuredOn: new Date(when).toISOString().slice(0, 10),
      });
      return keepMeasurement(db, { actor, input, replaces: null });
    });
  }
}
