import { z } from 'zod';
import { contentsNames, type TankContents } from '../catalog/steps.ts';
import { CouponOutcome } from './trial-outcomes.ts';

interface Factor {
  label: string;
  unit: string;
  /** The kind of figure, for whoever shows it in another unit; null is a bare number or the unit of the series. */
  shownAs: 'temperature' | 'voltage' | 'shortDuration' | 'coatingThickness' | 'currentDensity' | null;
  /** Above 0 where no least is named. */
  min?: number;
  max: number;
}

/**
 * What a trial can be made under, each stored in the unit in its name; `strength` is in the unit of its series. The order is
 * that of forms, tables and files.
 */
export const trialFactors = {
  coatingThicknessUm: { label: 'coating thickness', unit: 'µm', shownAs: 'coatingThickness', max: 1000 },
  temperatureC: { label: 'temperature', unit: '°C', shownAs: 'temperature', min: -20, max: 300 },
  voltageV: { label: 'cell voltage', unit: 'V', shownAs: 'voltage', min: 0, max: 1000 },
  timeS: { label: 'time', unit: 's', shownAs: 'shortDuration', max: 1_000_000 },
  strength: { label: 'concentration', unit: '', shownAs: null, max: 1_000_000 },
  pH: { label: 'pH', unit: '', shownAs: null, min: 0, max: 14 },
  currentDensityAPerM2: {
    ...{ label: 'current density', unit: 'A/m²', shownAs: 'currentDensity', min: 0, max: 100_000 },
  },
} as const satisfies Record<string, Factor>;
export type TrialFactor = keyof typeof trialFactors;
export const trialFactorKeys = Object.keys(trialFactors) as TrialFactor[];

/** A figure of a factor, inside its range. */
export function FactorFigure(factor: TrialFactor): z.ZodNumber {
  const { min, max }: Factor = trialFactors[factor];
  return (min === undefined ? z.number().positive() : z.number().min(min)).max(max);
}

/** One kind of trial: what is set or read in it, and what can come out. A factor that is not named does not exist in it. */
interface TrialFamily {
  factors: Readonly<Partial<Record<TrialFactor, 'required' | 'optional'>>>;
  outcomes: readonly CouponOutcome[];
}

const everyTrial = { temperatureC: 'required', timeS: 'required', strength: 'required' } as const;
const onCurrent = CouponOutcome.options.filter((outcome) => outcome !== 'dyed');
/** Coloured by current: the time is that under voltage, the current density is kept where it was read. */
const driven: TrialFamily = {
  factors: { ...everyTrial, voltageV: 'required', currentDensityAPerM2: 'optional' },
  outcomes: onCurrent,
};
/** Anodized to be dyed afterwards, or for a colour of its own. */
const anodized: TrialFamily = { ...driven, outcomes: CouponOutcome.options };
/** Anodized aluminium in a dye: no current runs. The temperature and the time are those of the dye. */
const dyed: TrialFamily = {
  factors: { coatingThicknessUm: 'required', ...everyTrial, pH: 'optional' },
  outcomes: ['none', 'dyed', 'spotted', 'powdery'],
};
/** Dipped without a supply of its own; a voltage may have been held all the same. */
const dipped: TrialFamily = { factors: { ...everyTrial, voltageV: 'optional' }, outcomes: onCurrent };

const families: Partial<Record<TankContents, TrialFamily>> = {
  'mild-salt': driven,
  'dilute-acid': driven,
  'hot-caustic': driven,
  phosphoric: driven,
  'sulfuric-anodize': anodized,
  dye: dyed,
};
const familyOf = (contents: TankContents): TrialFamily => families[contents] ?? dipped;

/**
 * The factors that a trial in such a bath has, in their order.
 *
 * @example
 * trialFactorsOf('dye').map(({ factor }) => factor) // ['coatingThicknessUm', 'temperatureC', 'timeS', 'strength', 'pH']
 */
export function trialFactorsOf(contents: TankContents): { factor: TrialFactor; isRequired: boolean }[] {
  const { factors } = familyOf(contents);
  return trialFactorKeys.flatMap((factor) =>
    factors[factor] === undefined ? [] : [{ factor, isRequired: factors[factor] === 'required' }],
  );
}

/** What can come out of a trial in such a bath. */
export const trialOutcomesOf = (contents: TankContents): readonly CouponOutcome[] =>
  familyOf(contents).outcomes;

/** Whether a trial in such a bath is run on a power supply. */
export const isTrialDriven = (contents: TankContents): boolean =>
  familyOf(contents).factors.voltageV === 'required';

/** What is wrong with the factors of a trial in such a bath; empty where nothing is. */
export function factorFaults(
  contents: TankContents,
  trial: Readonly<Partial<Record<TrialFactor, number | null>>>,
): { factor: TrialFactor; message: string }[] {
  const { factors } = familyOf(contents);
  return trialFactorKeys.flatMap((factor) => {
    const value = trial[factor] ?? null;
    if (value === null && factors[factor] === 'required') return [{ factor, message: 'must be filled in' }];
    if (value !== null && factors[factor] === undefined)
      return [{ factor, message: `must be empty: a trial in ${contentsNames[contents]} has none` }];
    return [];
  });
}
