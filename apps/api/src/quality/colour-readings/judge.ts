import { judgeColour, labOfSpectrum } from '@huelot/calc';
import {
  gradeDecides,
  spectralIlluminants,
  type AgreedColour,
  type ColourVerdict,
  type JudgedReading,
  type MeasuringConditions,
  type NewColourReading,
} from '@huelot/contracts';

type Figures = NonNullable<NewColourReading['lab']>;

/**
 * The colour of a reading in figures, or null where it has none; a spectrum as `viewed` asks. Undefined where the light of that has
 * no tables here.
 */
export function labOfReading(
  { lab, spectrum }: Pick<NewColourReading, 'lab' | 'spectrum'>,
  viewed: Pick<MeasuringConditions, 'illuminant' | 'observerDeg'> | null,
): Figures | null | undefined {
  if (spectrum === null || viewed === null) return lab;
  const illuminant = spectralIlluminants.find((one) => one === viewed.illuminant);
  return illuminant && labOfSpectrum(spectrum, { illuminant, observerDeg: viewed.observerDeg });
}

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
