import { judgeColour, labFromReadings } from '@huelot/calc';
import {
  gradeDecides,
  type AgreedColour,
  type ColourVerdict,
  type JudgedReading,
  type NewColourReading,
} from '@huelot/contracts';

type Conditions = NonNullable<NewColourReading['conditions']>;
type Figures = NonNullable<NewColourReading['lab']>;

/** What a spectrum is integrated under. */
export const integrated = { illuminant: 'D65', observerDeg: 2 } as const;

/**
 * Why figures under these conditions cannot be compared with what was agreed; null where they can. Where one of the two
 * does not state its geometry, that alone does not part them.
 */
export function conditionFault(
  conditions: Conditions,
  agreed: Pick<AgreedColour, 'conditions'>,
): { path: keyof Conditions; message: string } | null {
  const wanted = agreed.conditions;
  if (wanted === null) return null;
  if (conditions.illuminant !== wanted.illuminant)
    return { path: 'illuminant', message: `must be ${wanted.illuminant}, as the standard was agreed` };
  if (conditions.observerDeg !== wanted.observerDeg)
    return { path: 'observerDeg', message: `must be ${wanted.observerDeg}, as the standard was agreed` };
  const stated = conditions.geometry !== 'unstated' && wanted.geometry !== 'unstated';
  return stated && conditions.geometry !== wanted.geometry
    ? { path: 'geometry', message: 'must be that of the standard: another one reads another colour' }
    : null;
}

/** The colour of a reading in figures, or null where it has none. */
export const labOfReading = ({
  lab,
  spectrum,
}: Pick<NewColourReading, 'lab' | 'spectrum'>): Figures | null =>
  spectrum === null ? lab : labFromReadings({ readings: [spectrum] }).lab;

/**
 * The verdict over a reading. Only what an instrument measured or two people compared has one; a measured colour also
 * needs a target in figures. By a standard that has run out nothing passes: the figures are there, and a person decides.
 */
export function judgeReading({
  reading,
  lab,
  agreed,
  expired,
  guardFactor,
}: {
  reading: Pick<NewColourReading, 'grade' | 'expandedUncertainty' | 'outcome'>;
  lab: Figures | null;
  agreed: AgreedColour | null;
  /** On the day it was read. */
  expired: boolean;
  guardFactor: number;
}): { judged: JudgedReading | null; verdict: ColourVerdict | null } {
  if (agreed === null || !gradeDecides(reading.grade)) return { judged: null, verdict: null };
  if (reading.grade === 'compared') return { judged: null, verdict: expired ? 'hold' : reading.outcome };
  const { target, tolerance, light, dark } = agreed;
  if (lab === null || target === null || tolerance === null || reading.expandedUncertainty === null)
    return { judged: null, verdict: null };
  const { verdict, ...rest } = judgeColour({
    reading: lab,
    agreed: { target, light, dark, tolerance: tolerance.deltaE, from: tolerance.from, factors: tolerance },
    expandedUncertainty: reading.expandedUncertainty,
    guardFactor,
  });
  return {
    judged: { ...rest, limit: tolerance.deltaE, guardFactor },
    verdict: expired ? 'hold' : verdict,
  };
}

/** The verdict as a hold says it. */
export function holdWords(
  { place, zone, outcome }: { place: string; zone: string; outcome: ColourVerdict | null },
  judged: JudgedReading | null,
  { agreed, expired }: { agreed: AgreedColour; expired: boolean },
): string {
  const where = [zone, place].filter(Boolean).join(', ') || 'the piece';
  const name = agreed.revision === null ? agreed.code : `${agreed.code} revision ${agreed.revision}`;
  const late = expired ? ` ${name} counted until ${agreed.expiresOn}, before it was read.` : '';
  if (judged === null)
    return `Colour of ${where}: two people found it ${outcome === 'hold' ? 'not to match' : outcome === 'warn' ? 'near the limit of' : 'to match'} ${name}.${late}`;
  const signed = (value: number) => `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(1)}`;
  return (
    `Colour of ${where}: dE ${judged.deltaE.toFixed(1)} from ${name}, limit ${judged.limit} ` +
    `(dL ${signed(judged.dL)}, da ${signed(judged.da)}, db ${signed(judged.db)}).${late}`
  );
}
