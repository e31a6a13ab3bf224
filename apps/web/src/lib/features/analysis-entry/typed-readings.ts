import {
  AnalysisReadings,
  type AnalysisMethod,
  type BathSetup,
  type MethodKind,
  type Solute,
} from '@huelot/contracts';

/** Readings while they are typed: a figure is missing until it is there. */
export type Typed<T> = T extends number
  ? number | null
  : T extends readonly (infer U)[]
    ? Typed<U>[]
    : T extends object
      ? { [K in keyof T]: Typed<T[K]> }
      : T;
export type TypedReadings = Typed<AnalysisReadings>;
export type TypedOf<K extends MethodKind> = Extract<TypedReadings, { kind: K }>;

/** A sample that was let cool; common practice. */
const benchTemperatureC = 20;

const caustic = (solute: Solute | null): 'KOH' | 'NaOH' => (solute === 'NaOH' ? 'NaOH' : 'KOH');

/** Empty readings of a method, with all that the method fixes filled in. */
export function blankReadings(
  { kind, settings }: Pick<AnalysisMethod, 'kind' | 'settings'>,
  setup: Pick<BathSetup, 'solute' | 'components'> | null,
): TypedReadings {
  const sample = {
    basis: settings.sample?.basis ?? 'volume',
    temperatureC: benchTemperatureC,
    dilution: settings.sample?.dilution ?? null,
    blankMl: 0,
  };
  const amount = settings.sample?.amount ?? null;
  const flasks = <T extends object>(flask: T): T[] =>
    Array.from({ length: settings.replicates }, () => ({ ...flask }));
  const solute = settings.solute ?? setup?.solute ?? null;
  const secondReading = settings.secondReading ?? 'from-zero';
  switch (kind) {
    case 'caustic-two-end-points':
      return {
        kind,
        ...sample,
        solute: caustic(solute),
        secondReading,
        replicates: flasks({ amount, firstEndPointMl: null, secondEndPointMl: null }),
      };
    case 'caustic-barium-chloride':
      return {
        kind,
        ...sample,
        solute: caustic(solute),
        replicates: flasks({ amount, totalMl: null, hydroxideMl: null }),
      };
    case 'sulfuric-free-acid':
      return {
        kind,
        ...sample,
        aluminium: settings.aluminium ?? 'none',
        replicates: flasks({ amount, endPointMl: null }),
      };
    case 'sulfuric-aluminium':
      return {
        kind,
        ...sample,
        procedure: settings.procedure ?? 'fluoride',
        replicates: flasks({ amount, acidMl: null, totalMl: null }),
      };
    case 'phosphate':
    case 'phosphoric':
      return {
        kind,
        ...sample,
        secondReading,
        replicates: flasks({ amount, firstEndPointMl: null, secondEndPointMl: null }),
      };
    case 'hydrometer':
      return {
        kind,
        solute: solute ?? 'KOH',
        scale: settings.scale ?? 'g/mL',
        calibrationTemperatureC: null,
        dissolved: null,
        replicates: flasks({ reading: null, temperatureC: null }),
      };
    case 'ph':
    case 'conductivity':
    case 'turbidity':
      return { kind, temperatureC: null, replicates: flasks({ reading: null }) };
    case 'appearance':
      return { kind, good: true, words: '' };
    case 'plain':
      return {
        kind,
        values: (setup?.components ?? []).map(({ key, unit, referenceTemperatureC }) => ({
          component: key,
          unit,
          referenceTemperatureC,
          value: null,
          standardUncertainty: null,
        })),
      };
  }
}

/** Names of the members of a flask that are read, so that one nobody filled is left out. */
const isRead = ([name, value]: [string, unknown]) => name !== 'amount' && value !== null;
const isUntouched = (flask: object) => !Object.entries(flask).some(isRead);

/** As they are sent: flasks and figures that nobody filled in are left out at the end. */
export function filledIn(readings: TypedReadings): TypedReadings {
  if (readings.kind === 'appearance') return readings;
  if (readings.kind === 'plain') {
    const values = readings.values.filter(({ value }) => value !== null);
    return { ...readings, values: values.length > 0 ? values : readings.values };
  }
  const flasks: object[] = readings.replicates;
  const used = flasks.findLastIndex((flask) => !isUntouched(flask)) + 1;
  return { ...readings, replicates: readings.replicates.slice(0, Math.max(1, used)) } as TypedReadings;
}

/** The readings once every figure is there; null until then. */
export function wholeReadings(readings: TypedReadings): AnalysisReadings | null {
  const parsed = AnalysisReadings.safeParse(filledIn(readings));
  return parsed.success ? parsed.data : null;
}

/** The first figure that no burette, pipette or meter can show, with its place in the form; null where there is none. */
export function wrongReading(readings: TypedReadings): { path: string; words: string } | null {
  const parsed = AnalysisReadings.safeParse(filledIn(readings));
  for (const issue of parsed.error?.issues ?? []) {
    const path = ['readings', ...issue.path].join('.');
    if (issue.code === 'too_small')
      return {
        path,
        words: `it must be ${issue.inclusive ? 'at least' : 'more than'} ${String(issue.minimum)}`,
      };
    if (issue.code === 'too_big')
      return {
        path,
        words: `it must be ${issue.inclusive ? 'at most' : 'less than'} ${String(issue.maximum)}`,
      };
  }
  return null;
}
