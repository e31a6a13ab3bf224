import { z } from 'zod';
import { Line, Positive, Quantity, Text } from '../kernel/scalars.ts';

/** The three kinds of work: what sets the colour differs, so do limits, rates and cautions. */
export const Family = z.enum(['interference-colour', 'caustic-colour', 'dyed-anodize']);
export type Family = z.output<typeof Family>;

export const familyNames: Record<Family, string> = {
  'interference-colour': 'interference colour',
  'caustic-colour': 'caustic colour',
  'dyed-anodize': 'dyed anodize',
};

/** What a tank holds, and so what a step needs. `air` is a dryer, an oven or a bench. */
export const TankContents = z.enum([
  'water-rinse',
  'hot-rinse',
  'alkaline-clean',
  'acid-etch',
  'fluoride-etch',
  'alkaline-etch',
  'desmut',
  'mild-salt',
  'dilute-acid',
  'hot-caustic',
  'sulfuric-anodize',
  'phosphoric',
  'dye',
  'seal',
  'oil',
  'strip',
  'air',
]);
export type TankContents = z.output<typeof TankContents>;

export const contentsNames: Record<TankContents, string> = {
  'water-rinse': 'rinse water',
  'hot-rinse': 'hot rinse water',
  'alkaline-clean': 'alkaline cleaner',
  'acid-etch': 'acid etch without fluoride',
  'fluoride-etch': 'etch with fluoride',
  'alkaline-etch': 'alkaline etch',
  desmut: 'desmut acid',
  'mild-salt': 'mild salt electrolyte',
  'dilute-acid': 'dilute acid electrolyte',
  'hot-caustic': 'hot concentrated caustic',
  'sulfuric-anodize': 'sulfuric acid anodize',
  phosphoric: 'phosphoric acid',
  dye: 'dye',
  seal: 'seal',
  oil: 'oil or inhibitor',
  strip: 'strip',
  air: 'air: dryer, oven or bench',
};

/** The side of neutral that a bath of these contents is on; null where it is neither, or either. */
export const sideOfContents: Record<TankContents, 'acid' | 'alkali' | null> = {
  'water-rinse': null,
  'hot-rinse': null,
  'alkaline-clean': 'alkali',
  'acid-etch': 'acid',
  'fluoride-etch': 'acid',
  'alkaline-etch': 'alkali',
  desmut: 'acid',
  'mild-salt': null,
  'dilute-acid': 'acid',
  'hot-caustic': 'alkali',
  'sulfuric-anodize': 'acid',
  phosphoric: 'acid',
  dye: null,
  seal: null,
  oil: null,
  strip: null,
  air: null,
};

/** What is done in a step. `colour` is the electrolytic step of valve metal and steel, `anodize` that of aluminium. */
export const StepKind = z.enum([
  'prepare',
  'mask',
  'rack',
  'clean',
  'rinse',
  'etch',
  'desmut',
  'colour',
  'anodize',
  'dye',
  'seal',
  'oil',
  'strip',
  'dry',
  'unrack',
  'unmask',
  'inspect',
]);
export type StepKind = z.output<typeof StepKind>;

export const stepKindNames: Record<StepKind, string> = {
  prepare: 'prepare the surface',
  mask: 'mask',
  rack: 'rack',
  clean: 'clean',
  rinse: 'rinse',
  etch: 'etch',
  desmut: 'desmut',
  colour: 'colour',
  anodize: 'anodize',
  dye: 'dye',
  seal: 'seal',
  oil: 'oil or protect',
  strip: 'strip',
  dry: 'dry',
  unrack: 'unrack',
  unmask: 'unmask',
  inspect: 'inspect',
};

/** The steps that a power supply drives. */
export const electrolyticKinds = ['colour', 'anodize'] as const satisfies readonly StepKind[];

/**
 * Names of settings and readings, each stored in the unit in its name. `shownAs` is the kind of figure it is, for
 * whoever shows it in another unit; null is a bare number.
 */
export const stepQuantities = {
  voltageV: { label: 'voltage', unit: 'V', shownAs: 'voltage', max: 1000 },
  currentA: { label: 'current', unit: 'A', shownAs: 'current', max: 100_000 },
  currentDensityAPerM2: { label: 'current density', unit: 'A/m²', shownAs: 'currentDensity', max: 100_000 },
  chargeCPerM2: { label: 'charge per area', unit: 'C/m²', shownAs: 'chargeDensity', max: 1e8 },
  temperatureC: { label: 'temperature', unit: '°C', shownAs: 'temperature', max: 1000 },
  durationS: { label: 'time', unit: 's', shownAs: 'duration', max: 1_000_000 },
  pH: { label: 'pH', unit: '', shownAs: null, max: 14 },
  concentrationGPerL: { label: 'concentration', unit: 'g/L', shownAs: 'concentration', max: 5000 },
  conductivitySPerM: { label: 'conductivity', unit: 'S/m', shownAs: 'conductivity', max: 1000 },
  flowLPerH: { label: 'flow', unit: 'L/h', shownAs: 'flow', max: 1_000_000 },
  coatingThicknessUm: { label: 'coating thickness', unit: 'µm', shownAs: 'coatingThickness', max: 10_000 },
  filmThicknessNm: { label: 'film thickness', unit: 'nm', shownAs: 'filmThickness', max: 1_000_000 },
  counterElectrodeGapMm: {
    label: 'gap to the counter electrode',
    unit: 'mm',
    shownAs: 'length',
    max: 10_000,
  },
  deltaE2000: { label: 'colour difference ΔE₀₀', unit: '', shownAs: null, max: 200 },
} as const;
export type StepQuantity = keyof typeof stepQuantities;
export const StepQuantity = z.enum(Object.keys(stepQuantities) as [StepQuantity, ...StepQuantity[]]);

const Figure = z.number().min(-50).max(1e8);

/** Target and limits of one quantity. Any may be absent, but not all three. */
export const StepSetting = z.object({
  quantity: StepQuantity,
  target: Figure.nullable(),
  low: Figure.nullable(),
  high: Figure.nullable(),
});
export type StepSetting = z.output<typeof StepSetting>;

/** A supply runs up or down to a level in some seconds, or stays at it for some. */
export const ProgrammeStage = z.object({
  kind: z.enum(['ramp', 'hold']),
  to: Quantity(100_000),
  seconds: Positive(1_000_000),
});
export type ProgrammeStage = z.output<typeof ProgrammeStage>;

/**
 * What the supply does. In voltage mode the levels are volts; in current mode they are A/m² of the load's area, so
 * that one recipe serves every load. Peak density sizes the load; the decay from peak to steady gives charge and energy.
 */
export const Electrical = z.object({
  programme: z.array(ProgrammeStage),
  mode: z.enum(['voltage', 'current']),
  peakCurrentDensityAPerM2: Positive(100_000),
  steadyCurrentDensityAPerM2: Quantity(100_000),
  /** Time in which the current falls to 1/e of its way from peak to steady; null where it does not fall. */
  timeConstantS: Positive(1_000_000).nullable(),
  averageVoltageV: Positive(1000),
  /** Measured on earlier loads; null computes it from the current. */
  chargeCPerM2: Positive(1e8).nullable(),
});
export type Electrical = z.output<typeof Electrical>;

/** Seconds from the start of a programme to its end. */
export const programmeSeconds = (programme: readonly ProgrammeStage[]): number =>
  programme.reduce((sum, { seconds }) => sum + seconds, 0);

/** A step as it crosses the wire, without rules: replies and travelers carry what was accepted once. */
export const Step = z.object({
  kind: StepKind,
  title: Line(120),
  instructions: Text(2000),
  /** What the tank must hold; null is work outside the tanks. */
  contents: TankContents.nullable(),
  /** Planned time in the tank, 0 where time does not matter. Limits of it are a setting of `durationS`. */
  durationS: z.int().min(0).max(1_000_000),
  dripS: z.int().min(0).max(3600),
  cautions: z.array(Line(400)).max(20),
  /** What the operator must write down. */
  record: z.array(StepQuantity).max(12),
  settings: z.array(StepSetting),
  electrical: Electrical.nullable(),
});
export type Step = z.output<typeof Step>;
