import type { ColourReading, ColourVerdict, JudgedReading, LotColour } from '@huelot/contracts';

type Tone = 'good' | 'caution' | 'danger' | 'quiet';

/** How a verdict shows. */
export const verdictBadges: Record<ColourVerdict | 'none' | 'expired', { label: string; tone: Tone }> = {
  pass: { label: 'as agreed', tone: 'good' },
  warn: { label: 'near the limit', tone: 'caution' },
  hold: { label: 'beyond the limit', tone: 'danger' },
  none: { label: 'not judged', tone: 'quiet' },
  expired: { label: 'held: standard expired', tone: 'danger' },
};
/** The badge of a reading; by a standard that had run out nothing passes. */
export const verdictBadge = ({
  verdict,
  standardExpired,
}: {
  verdict: ColourVerdict | null;
  standardExpired: boolean;
}) => verdictBadges[verdict === null ? 'none' : standardExpired ? 'expired' : verdict];

const signed = (value: number) => `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(1)}`;

/**
 * A difference in figures.
 *
 * @example
 * differenceWords({ deltaE: 1.24, dL: 1, da: -0.2, db: 0.4 }) // 'dE 1.2 (dL +1.0, da −0.2, db +0.4)'
 */
export const differenceWords = ({ deltaE, dL, da, db }: Pick<JudgedReading, 'deltaE' | 'dL' | 'da' | 'db'>) =>
  `dE ${deltaE.toFixed(1)} (dL ${signed(dL)}, da ${signed(da)}, db ${signed(db)})`;

/** How a reading is decided about, in sentences. */
export function decisionWords({ agreed, guardFactor }: Pick<LotColour, 'agreed' | 'guardFactor'>): string {
  if (agreed === null) return '';
  if (agreed.tolerance === null) return 'No figures were agreed: two people compare with the standard.';
  const { deltaE, from } = agreed.tolerance;
  const line = from === 'ends' ? 'the line between the light and the dark end' : 'the target';
  const band = guardFactor === 1 ? 'its uncertainty' : `${guardFactor} times its uncertainty`;
  return guardFactor === 0
    ? `At most dE ${deltaE} from ${line}; the uncertainty of the reading is not taken off.`
    : `At most dE ${deltaE} from ${line}. A reading passes up to that less ${band}, warns up to ${deltaE} and holds the lot above.`;
}

/**
 * The chance that a colour lies beyond its limit.
 *
 * @example
 * riskWords(0.0548) // '5.5 %'
 */
export const riskWords = (risk: number): string =>
  risk < 0.001 ? 'below 0.1 %' : risk > 0.999 ? 'above 99.9 %' : `${(100 * risk).toFixed(1)} %`;

/** Readings that count, newest first. */
export const standing = (readings: readonly ColourReading[]): ColourReading[] =>
  readings.filter(({ withdrawn, correctedById }) => !withdrawn && correctedById === null);
