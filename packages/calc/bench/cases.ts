import { differenceCiede2000 } from 'culori';
import { cie1931Observer } from '../src/colour/data/cie-1931-2deg.ts';
import { illuminantD65 } from '../src/colour/data/illuminant-d65.ts';
import {
  deltaE2000,
  filmColour,
  filmModel,
  fitFilmGrowth,
  matchColour,
  planAddition,
  samplingPlan,
  thicknessFromVoltage,
  titaniumSystem,
  wavelengthsNm,
} from '../src/index.ts';
import { type PlainTables, plainFilmLab } from './plain-film.ts';

const lit = (matching: readonly number[]) => matching.map((value, i) => value * (illuminantD65[i] ?? NaN));

const tables: PlainTables = {
  wavelengthsNm,
  weights: { X: lit(cie1931Observer.xbar), Y: lit(cie1931Observer.ybar), Z: lit(cie1931Observer.zbar) },
};

const model = filmModel(titaniumSystem);
const regime = { alloy: 'Ti grade 2', preparation: 'polished', bath: 'Na3PO4', temperatureC: 22, holdS: 30 };
const coupons = [10, 18, 26, 34, 42, 50, 58, 66].map((voltageV) => ({
  voltageV,
  lab: model.labAt(3 + 2.1 * voltageV),
}));
const { growth } = fitFilmGrowth({ coupons, system: 'titanium', regime });
const target = model.labAt(97);
const culori = differenceCiede2000();

/** Walks through thicknesses, so that no call can profit from the one before. */
const thicknesses = (): (() => number) => {
  let thicknessNm = 0;
  return () => (thicknessNm = (thicknessNm + 7.3) % 400);
};
const [plainNm, fastNm, wholeNm] = [thicknesses(), thicknesses(), thicknesses()];

/** How far the two routes to a film colour differ: they must agree before their speeds are compared. */
export function plainAndFastDifference(): number {
  const differences = [0, 25, 50, 97, 180, 333].map((thicknessNm) =>
    deltaE2000(model.labAt(thicknessNm), plainFilmLab({ ...titaniumSystem, thicknessNm, tables })),
  );
  return Math.max(...differences);
}

const first = { L: 50.9, a: 12.1, b: -31.7 };
const second = { L: 49.2, a: 15.3, b: -28.8 };
const [theirFirst, theirSecond] = [
  { mode: 'lab65' as const, l: first.L, a: first.a, b: first.b },
  { mode: 'lab65' as const, l: second.L, a: second.a, b: second.b },
];

export const CASES = {
  plainFilm: () => plainFilmLab({ ...titaniumSystem, thicknessNm: plainNm(), tables }),
  fastFilm: () => model.labAt(fastNm()),
  wholeFilm: () => filmColour({ system: 'titanium', thicknessNm: wholeNm() }),
  strip: () =>
    Array.from({ length: 400 }, (_, i) => {
      const { thicknessNm } = thicknessFromVoltage({ growth, voltageV: 10 + (56 * i) / 400 });
      return model.colourAt(thicknessNm).srgb.hex;
    }),
  deltaE: () => deltaE2000(first, second),
  deltaECulori: () => culori(theirFirst, theirSecond),
  match: () => matchColour({ target, growth, coupons }),
  fit: () => fitFilmGrowth({ coupons, system: 'titanium', regime }),
  sampling: () => samplingPlan({ lotSize: 200, level: 'II', aql: '1.0', severity: 'normal' }),
  addition: () =>
    planAddition({
      solute: 'KOH',
      volumeL: 400,
      fullVolumeL: 450,
      freeboardL: 20,
      temperatureC: 60,
      massFraction: 0.47,
      targetMassFraction: 0.5,
      stock: { form: 'solid', massFraction: 0.9 },
    }),
} satisfies Record<string, () => unknown>;
