import { z } from 'zod';
import { Line, Positive, Quantity, Text } from './scalars.ts';

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

/** The steps that a power supply drives. */
export const electrolyticKinds = ['colour', 'anodize'] as const satisfies readonly StepKind[];

/**
 * Names of settings and readings, each stored in the unit in its name. `shownAs` is the kind of figure it is, for
 * whoever shows it in another unit; null is a bare number.
 */
export const stepQuantities = {
  voltageV: { label: 'voltage', shownAs: 'voltage', max: 1000 },
  currentA: { label: 'current', shownAs: 'current', max: 100_000 },
  currentDensityAPerM2: { label: 'current density', shownAs: 'currentDensity', max: 100_000 },
  chargeCPerM2: { label: 'charge per area', shownAs: 'chargeDensity', max: 1e8 },
  temperatureC: { label: 'temperature', shownAs: 'temperature', max: 1000 },
  durationS: { label: 'time', shownAs: 'duration', max: 1_000_000 },
  pH: { label: 'pH', shownAs: null, max: 14 },
  concentrationGPerL: { label: 'concentration', shownAs: 'concentration', max: 5000 },
  conductivitySPerM: { label: 'conductivity', shownAs: 'conductivity', max: 1000 },
  flowLPerH: { label: 'flow', shownAs: 'flow', max: 1_000_000 },
  coatingThicknessUm: { label: 'coating thickness', shownAs: 'coatingThickness', max: 10_000 },
  filmThicknessNm: { label: 'film thickness', shownAs: 'filmThickness', max: 1_000_000 },
  counterElectrodeGapMm: { label: 'gap to the counter electrode', shownAs: 'length', max: 10_000 },
  deltaE2000: { label: 'colour difference ΔE₀₀', shownAs: null, max: 200 },
} as const;
export type StepQuantity = keyof typeof stepQuantities;
export const StepQuantity = z.enum(Object.keys(stepQuantities) as [StepQuantity, ...StepQuantity[]]);

/** The lowest figure that can be meant. */
const leastOf = (quantity: StepQuantity) => (quantity === 'temperatureC' ? -50 : 0);

const Figure = z.number().min(-50).max(1e8);

/** Target and limits of one quantity. Any may be absent, but not all three. */
export const StepSetting = z
  .strictObject({
    quantity: StepQuantity,
    target: Figure.nullable(),
    low: Figure.nullable(),
    high: Figure.nullable(),
  })
  .superRefine(({ quantity, target, low, high }, context) => {
    const fault = (path: 'target' | 'low' | 'high', message: string) =>
      context.addIssue({ code: 'custom', path: [path], message });
    const { max } = stepQuantities[quantity];
    const least = leastOf(quantity);
    for (const [path, value] of Object.entries({ target, low, high })) {
      if (value !== null && (value < least || value > max)) {
        fault(path as 'target', `must be from ${least} to ${max}`);
      }
    }
    if (target === null && low === null && high === null) fault('target', 'needs a target or a limit');
    if (low !== null && high !== null && low > high) fault('low', 'must not be above the high limit');
    if (target !== null && low !== null && low > target) fault('low', 'must not be above the target');
    if (target !== null && high !== null && high < target) fault('high', 'must not be below the target');
  });
export type StepSetting = z.output<typeof StepSetting>;

/** A supply runs up or down to a level (volts or amps per the mode) in some seconds, or stays at it for some. */
export const ProgrammeStage = z.strictObject({
  kind: z.enum(['ramp', 'hold']),
  to: Quantity(1000),
  seconds: Positive(1_000_000),
});
export type ProgrammeStage = z.output<typeof ProgrammeStage>;

/**
 * What the supply does. In voltage mode the levels are volts; in current mode they are A/m² of the load's area, so
 * that one recipe serves every load. Peak density sizes the load; the decay from peak to steady gives charge and energy.
 */
export const Electrical = z
  .strictObject({
    mode: z.enum(['voltage', 'current']),
    programme: z
      .array(z.strictObject({ ...ProgrammeStage.shape, to: Quantity(100_000) }))
      .min(1, 'needs at least one ramp or hold')
      .max(20),
    peakCurrentDensityAPerM2: Positive(100_000),
    steadyCurrentDensityAPerM2: Quantity(100_000),
    /** Time in which the current falls to 1/e of its way from peak to steady; null where it does not fall. */
    timeConstantS: Positive(1_000_000).nullable(),
    averageVoltageV: Positive(1000),
    /** Measured on earlier loads; null computes it from the current. */
    chargeCPerM2: Positive(1e8).nullable(),
  })
  .superRefine((electrical, context) => {
    const fault = (path: (string | number)[], message: string) =>
      context.addIssue({ code: 'custom', path, message });
    const { mode, programme, averageVoltageV } = electrical;
    const peak = electrical.peakCurrentDensityAPerM2;
    const steady = electrical.steadyCurrentDensityAPerM2;
    if (steady > peak) fault(['steadyCurrentDensityAPerM2'], 'must not be above the peak');
    if (steady < peak && electrical.timeConstantS === null) {
      fault(['timeConstantS'], 'is needed when the current falls from a peak to a lower steady value');
    }
    const highest = Math.max(...programme.map(({ to }) => to));
    if (highest === 0) fault(['programme', 0, 'to'], 'the programme never leaves zero');
    const limit = mode === 'voltage' ? 1000 : 100_000;
    programme.forEach(({ to }, at) => {
      if (to > limit) fault(['programme', at, 'to'], `must be at most ${limit}`);
    });
    if (mode === 'voltage' && averageVoltageV > highest && highest > 0) {
      fault(['averageVoltageV'], `must not be above ${highest} V, the highest of the programme`);
    }
    if (mode === 'current' && highest > peak) {
      fault(['peakCurrentDensityAPerM2'], 'must not be below the highest of the programme');
    }
  });
export type Electrical = z.output<typeof Electrical>;

/** Seconds from the start of a programme to its end. */
export const programmeSeconds = (programme: readonly ProgrammeStage[]): number =>
  programme.reduce((sum, { seconds }) => sum + seconds, 0);

const stepFields = {
  kind: StepKind,
  title: Line(120),
  instructions: Text(2000),
  /** What the tank must hold; null is work outside the tanks. */
  contents: TankContents.nullable(),
  /** Planned time in the tank, 0 where time does not matter. Limits of it are a setting of `durationS`. */
  durationS: z.int().min(0).max(1_000_000),
  dripS: z.int().min(0).max(3600),
  settings: z.array(StepSetting).max(12),
  electrical: Electrical.nullable(),
  cautions: z.array(Line(400)).max(20),
  /** What the operator must write down. */
  record: z.array(StepQuantity).max(12),
};

/** A step as it crosses the wire, without rules: replies and travelers carry what was accepted once. */
export const Step = z.object(stepFields);
export type Step = z.output<typeof Step>;

/** A step being written, with everything that must agree inside it. */
export const NewStep = z.strictObject(stepFields).superRefine((step, context) => {
  const fault = (path: (string | number)[], message: string) =>
    context.addIssue({ code: 'custom', path, message });
  const repeated = (names: readonly string[]) => names.findIndex((name, at) => names.indexOf(name) !== at);

  const twiceSet = repeated(step.settings.map(({ quantity }) => quantity));
  if (twiceSet >= 0) fault(['settings', twiceSet, 'quantity'], 'is set twice in this step');
  const twiceRecorded = repeated(step.record);
  if (twiceRecorded >= 0) fault(['record', twiceRecorded], 'is listed twice');

  step.settings.forEach(({ quantity, target }, at) => {
    if (quantity === 'durationS' && target !== step.durationS) {
      fault(['settings', at, 'target'], `must be ${step.durationS} s, the time of the step`);
    }
  });

  const electrolytic = (electrolyticKinds as readonly StepKind[]).includes(step.kind);
  if (step.electrical === null) {
    if (electrolytic) fault(['electrical'], 'is needed: this step runs on a power supply');
    return;
  }
  if (!electrolytic && step.kind !== 'clean' && step.kind !== 'strip') {
    fault(['electrical'], 'only cleaning, stripping, colouring and anodizing run on a power supply');
  }
  if (step.contents === null || step.contents === 'air') {
    fault(['contents'], 'must be a bath: this step runs on a power supply');
  }
  const { programme, mode } = step.electrical;
  const seconds = programmeSeconds(programme);
  if (seconds > step.durationS) {
    fault(['durationS'], `must be at least ${seconds} s, the length of the programme`);
  }
  const last = programme.at(-1)?.to ?? 0;
  const quantity = mode === 'voltage' ? 'voltageV' : 'currentDensityAPerM2';
  step.settings.forEach((setting, at) => {
    if (setting.quantity !== quantity) return;
    if (setting.target !== null && setting.target !== last) {
      fault(['settings', at, 'target'], `must be ${last}, where the programme ends`);
    } else if ((setting.low ?? last) > last || (setting.high ?? last) < last) {
      fault(['settings', at, 'low'], `the limits must hold ${last}, where the programme ends`);
    }
  });
});
export type NewStep = z.output<typeof NewStep>;
