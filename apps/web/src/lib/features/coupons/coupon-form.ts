import {
  type ColourGrade,
  type CouponOutcome,
  type CouponSeries,
  type CouponTrial,
  type NewCouponSeries,
  type StrengthUnit,
  type TankContents,
  type TrialFactor,
  trialFactorKeys,
  trialFactorsOf,
} from '@huelot/contracts';

export interface TrialValues extends Record<TrialFactor, number | null> {
  mark: string;
  /** Null of a coupon from the tank that nobody has looked at. */
  outcome: CouponOutcome | null;
  protects: boolean | null;
  /** Null is measured where a colour is typed, and words where none is. */
  grade: ColourGrade | null;
  lab: { L: number | null; a: number | null; b: number | null };
  madeOn: string;
  madeBy: string;
  /** What it was made under was signed at the tank, and stays. */
  run: CouponTrial['run'];
}
/** A series as it is typed. */
export interface SeriesValues {
  code: string;
  name: string;
  materialId: number | null;
  contents: TankContents;
  component: string;
  unit: StrengthUnit;
  referenceTemperatureC: number | null;
  preparation: string;
  notes: string;
  changeNote: string;
  trials: TrialValues[];
  /** Of strips; they are taken where a strip is read from its photo. */
  photos: NewCouponSeries['photos'];
}

/** What usually gives a bath its strength: common practice, no source. */
const usualComponents: Partial<Record<TankContents, string>> = {
  'hot-caustic': 'KOH',
  'mild-salt': 'Na3PO4',
  'sulfuric-anodize': 'H2SO4',
  phosphoric: 'H3PO4',
};

/** The component once another bath is chosen: the usual one of it, unless somebody typed another than was proposed. */
export const componentFor = (
  contents: TankContents,
  before: Pick<SeriesValues, 'contents' | 'component'>,
): string => {
  const isProposed = before.component === '' || before.component === usualComponents[before.contents];
  return isProposed ? (usualComponents[contents] ?? '') : before.component;
};

export const emptySeries: SeriesValues = {
  code: '',
  name: '',
  materialId: null,
  contents: 'hot-caustic',
  component: 'KOH',
  unit: 'massFraction',
  referenceTemperatureC: null,
  preparation: '',
  notes: '',
  changeNote: '',
  trials: [],
  photos: [],
};

/** Every factor, empty. */
const noFactors = Object.fromEntries(trialFactorKeys.map((factor) => [factor, null])) as Record<
  TrialFactor,
  number | null
>;

/** The next coupon is usually the last one with one setting moved; what came out is its own. */
export const nextTrial = (
  last: TrialValues | undefined,
  input: { madeOn: string; madeBy: string; outcome: CouponOutcome },
): TrialValues => ({
  ...(last ?? noFactors),
  // What was read at a coupon is of that coupon.
  currentDensityAPerM2: null,
  mark: '',
  outcome: last?.outcome ?? input.outcome,
  protects: null,
  grade: last?.grade ?? null,
  lab: { L: null, a: null, b: null },
  madeOn: last?.madeOn ?? input.madeOn,
  madeBy: last?.madeBy ?? input.madeBy,
  run: null,
});

const toValues = ({ lab, ...trial }: CouponTrial): TrialValues => ({
  ...trial,
  lab: lab === null ? { L: null, a: null, b: null } : { ...lab },
});
export function valuesOf(series: CouponSeries): SeriesValues {
  const { code, name, material, contents, component, unit, referenceTemperatureC } = series;
  const { preparation, notes, changeNote, trials, photos } = series;
  return {
    ...{ code, name, materialId: material.id, contents, component, unit, referenceTemperatureC },
    ...{ preparation, notes, changeNote, trials: trials.map(toValues) },
    photos: photos.map(({ file, marks }) => ({ fileId: file.id, marks })),
  };
}

/**
 * As it is sent: a colour of which nothing is typed was not measured, and what the bath has not is left out. What is missing
 * the server names.
 */
export function bodyOf(values: SeriesValues): NewCouponSeries {
  const perLitre = values.unit !== 'massFraction';
  const factors = trialFactorsOf(values.contents);
  return {
    ...values,
    referenceTemperatureC: perLitre ? values.referenceTemperatureC : null,
    trials: values.trials.map(({ lab, run, ...trial }) => ({
      ...trial,
      ...noFactors,
      ...Object.fromEntries(factors.map(({ factor }) => [factor, trial[factor]])),
      run: run && { id: run.id, piece: run.piece },
      lab: Object.values(lab).every((value) => value === null) ? null : lab,
    })),
  } as NewCouponSeries;
}
