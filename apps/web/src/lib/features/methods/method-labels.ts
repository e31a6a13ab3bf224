import {
  methodKindNames,
  type AnalysisMethod,
  type MethodKind,
  type MethodSettings,
  type MethodStatus,
} from '@huelot/contracts';
import { soluteNames } from '$lib/features/lab/result-text.ts';

export const methodStates = {
  draft: { label: 'draft', tone: 'quiet' },
  'in-force': { label: 'in force', tone: 'good' },
  superseded: { label: 'superseded', tone: 'quiet' },
} as const satisfies Record<MethodStatus, object>;

export const secondReadingNames: Record<'from-zero' | 'from-first', string> = {
  'from-zero': 'read from zero',
  'from-first': 'read from the first end point',
};
export const aluminiumNames: Record<'none' | 'masked' | 'counted', string> = {
  none: 'none dissolved',
  masked: 'masked, so not titrated',
  counted: 'titrated as well and subtracted',
};
export const procedureNames: Record<'fluoride' | 'two-end-points', string> = {
  fluoride: 'two portions, with and without fluoride',
  'two-end-points': 'two end points in one flask',
};

/** `0.5 eq/L HCl`; empty for a method without a titrant. */
export const titrantWords = ({ titrant }: MethodSettings): string =>
  titrant ? `${titrant.nominalEqPerLitre} eq/L ${titrant.reagent}` : '';

const inPercent = (share: number) => `${Number((share * 100).toPrecision(6))} %`;

/** The unit that a reading of the instrument has, and its uncertainty with it. */
export const readingUnit = (kind: MethodKind, { scale }: Pick<MethodSettings, 'scale'>): string =>
  ({ ph: '', conductivity: 'S/m', turbidity: 'NTU', hydrometer: scale ?? '' })[kind as string] ?? '';

/** Whether something is titrated, and what else a kind asks about. */
export const needsOf = (kind: MethodKind) => ({
  titration: [
    'caustic-two-end-points',
    'caustic-barium-chloride',
    'sulfuric-free-acid',
    'sulfuric-aluminium',
    'phosphate',
    'phosphoric',
  ].includes(kind),
  secondReading: ['caustic-two-end-points', 'phosphate', 'phosphoric'].includes(kind),
  aluminium: kind === 'sulfuric-free-acid',
  procedure: kind === 'sulfuric-aluminium',
  scale: kind === 'hydrometer',
  meter: ['ph', 'conductivity', 'turbidity'].includes(kind),
  reading: ['hydrometer', 'ph', 'conductivity', 'turbidity'].includes(kind),
});

/** The settings of a method line by line; lines that the kind does not use are left out. */
export function settingLines({ kind, settings }: Pick<AnalysisMethod, 'kind' | 'settings'>) {
  const needs = needsOf(kind);
  const { sample, uncertainty, secondReading, aluminium, procedure } = settings;
  const line = (label: string, value: string | null | undefined | false) => (value ? [{ label, value }] : []);
  return [
    ...line('Kind', methodKindNames[kind]),
    ...line('Titrant', titrantWords(settings)),
    ...line(
      'Sample',
      sample && `${sample.amount} ${sample.basis === 'volume' ? 'mL pipetted' : 'g weighed'}`,
    ),
    ...line(
      'Dilution',
      sample?.dilution && `made up to ${sample.dilution.madeUpToMl} mL, ${sample.dilution.takenMl} mL taken`,
    ),
    ...line('Solute', settings.solute ? soluteNames[settings.solute] : 'that of the bath'),
    ...line('Second end point', needs.secondReading && secondReading && secondReadingNames[secondReading]),
    ...line('Dissolved aluminium', needs.aluminium && aluminium && aluminiumNames[aluminium]),
    ...line('Aluminium by', needs.procedure && procedure && procedureNames[procedure]),
    ...line('Scale', needs.scale && settings.scale),
    ...line('Indicators', settings.indicators.join(', then ')),
    ...line('Flasks or readings', String(settings.replicates)),
    ...line(
      'May differ by',
      kind === 'ph' ? String(settings.spreadLimit) : `${inPercent(settings.spreadLimit)} of their mean`,
    ),
    ...line('A burette reading is good to', needs.titration && `${uncertainty.readingMl} mL`),
    ...line('The sample is good to', needs.titration && inPercent(uncertainty.sampleRelative)),
    ...line(
      'A reading is good to',
      needs.reading &&
        [
          `${uncertainty.reading} ${readingUnit(kind, settings)}`.trim(),
          ...(uncertainty.readingRelative ? [inPercent(uncertainty.readingRelative)] : []),
        ].join(' and '),
    ),
  ];
}
