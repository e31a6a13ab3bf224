import type {
  Analysis,
  AnalysisMethod,
  AnalysisReason,
  AnalysisSheet,
  NewAnalysis,
  TitrantLot,
} from '@huelot/contracts';
import { blankReadings, filledIn, type TypedReadings } from './typed-readings.ts';

export interface OutsideValues {
  laboratory: string;
  reportNumber: string;
  reportedOn: string;
  fileId: number | null;
  fileName: string | null;
}
export interface AnalysisValues {
  methodId: number;
  sampledAt: string | null;
  analysedAt: string | null;
  why: AnalysisReason;
  samplePoint: string;
  volumeL: number | null;
  agitation: boolean | null;
  bathTemperatureC: number | null;
  readings: TypedReadings;
  titrantId: number | null;
  instrumentId: number | null;
  answer: string;
  notes: string;
  /** The report that the figures were read off; null where the shop found them itself. */
  outside: OutsideValues | null;
  /** Of a correction. */
  reason: string;
}

const acids = ['HCl', 'HNO3', 'H2SO4'];

/** Bottles that a method can be titrated with: acid for acid, the reagent of the method first. */
export function titrantsFor(
  method: AnalysisMethod | undefined,
  titrants: readonly TitrantLot[],
): TitrantLot[] {
  const wanted = method?.settings.titrant?.reagent;
  if (wanted === undefined) return [];
  const nominal = method?.settings.titrant?.nominalEqPerLitre ?? 1;
  /** A bottle of another strength or reagent needs another amount of sample: it comes last. */
  const rank = ({ reagent, expired, current }: TitrantLot) =>
    (reagent === wanted ? 0 : 2) + (expired ? 1 : 0) + Math.abs(Math.log(current.eqPerLitre / nominal));
  return titrants
    .filter(({ reagent, finished }) => !finished && acids.includes(reagent) === acids.includes(wanted))
    .toSorted((one, other) => rank(one) - rank(other));
}

/** A method of the plan, else the one this tank was last analysed by, else the first there is. */
export function usualMethod(sheet: AnalysisSheet): AnalysisMethod | undefined {
  const planned = sheet.setup?.plans.map(({ methodId }) => methodId) ?? [];
  return (
    sheet.methods.find(({ id }) => planned.includes(id)) ??
    sheet.methods.find(({ code }) => code === sheet.lastMethodCode) ??
    sheet.methods[0]
  );
}

/** A form for a sample that is taken now. */
export function newValues(
  sheet: AnalysisSheet,
  { method, why }: { method: AnalysisMethod; why: AnalysisReason },
): AnalysisValues {
  const now = new Date().toISOString();
  return {
    methodId: method.id,
    sampledAt: now,
    analysedAt: now,
    why,
    samplePoint: sheet.samplePoints[0] ?? '',
    volumeL: null,
    agitation: null,
    bathTemperatureC: null,
    readings: blankReadings(method, sheet.setup),
    titrantId: titrantsFor(method, sheet.titrants)[0]?.id ?? null,
    instrumentId: null,
    answer: '',
    notes: '',
    outside: null,
    reason: '',
  };
}

export const blankReport: OutsideValues = {
  laboratory: '',
  reportNumber: '',
  reportedOn: '',
  fileId: null,
  fileName: null,
};
function reportOf(outside: Analysis['outside']): OutsideValues | null {
  if (outside === null) return null;
  const { file, ...report } = outside;
  return { ...report, fileId: file?.id ?? null, fileName: file?.name ?? null };
}

/** The form of a correction begins with what was entered. */
export const valuesOf = (analysis: Analysis): AnalysisValues => ({
  methodId: analysis.method.id,
  sampledAt: analysis.sampledAt,
  analysedAt: analysis.analysedAt,
  why: analysis.why,
  samplePoint: analysis.samplePoint,
  volumeL: analysis.volumeL,
  agitation: analysis.agitation,
  bathTemperatureC: analysis.bathTemperatureC,
  readings: analysis.readings,
  titrantId: analysis.titrant?.id ?? null,
  instrumentId: analysis.instrument?.id ?? null,
  answer: analysis.answer,
  notes: analysis.notes,
  outside: reportOf(analysis.outside),
  reason: '',
});

/** As it is sent: a figure that is missing goes along as null and is refused by the name of its field. */
export function bodyOf({ reason: _, outside, ...values }: AnalysisValues): NewAnalysis {
  const readings = filledIn(values.readings);
  const report = readings.kind === 'plain' && outside !== null ? sentReport(outside) : null;
  return { ...values, readings, outside: report } as NewAnalysis;
}
const sentReport = ({ fileName: _, ...report }: OutsideValues) => report;
