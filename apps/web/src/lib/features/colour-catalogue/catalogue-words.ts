import {
  evidenceKindNames,
  LEAST_QUOTED,
  type CatalogueColour,
  type EvidenceVerdict,
} from '@huelot/contracts';
import { format } from '$lib/format/format.ts';

type Words<K extends keyof CatalogueColour> = (value: NonNullable<CatalogueColour[K]>) => string;

const counted = (count: number, one: string, many: string) => `${count} ${count === 1 ? one : many}`;

/** `mean of 14 readings of lots` */
export const originWords: Words<'colour'> = ({ from, count }) => {
  if (from === 'lots') return `mean of ${counted(count, 'reading', 'readings')} of lots`;
  if (from === 'coupons') return `mean of ${counted(count, 'coupon', 'coupons')}`;
  return count === 1 ? `of a ${evidenceKindNames[from]}` : `mean of ${count} ${evidenceKindNames[from]}s`;
};

/** `32 coupons, 1 first article` */
export const proofWords: Words<'proof'> = ({ coupons, trialLots, firstArticles }) =>
  [
    coupons > 0 && counted(coupons, 'coupon', 'coupons'),
    firstArticles > 0 && counted(firstArticles, 'first article', 'first articles'),
    trialLots > 0 && counted(trialLots, 'trial lot', 'trial lots'),
  ]
    .filter(Boolean)
    .join(', ');

/** `ΔE*ab 0.8 over 14 readings of 5 lots` */
export const spreadWords: Words<'spread'> = ({ deltaEab, readings, lots }) =>
  `ΔE*ab\u00a0${deltaEab.toFixed(1)} over ${readings} readings of ${counted(lots, 'lot', 'lots')}`;

/** `€1.20 to €1.90 per dm², half of what 9 lines were quoted at` */
export const priceWords: Words<'price'> = ({ low, high, currency, lines }) =>
  `${format.money(low, currency)} to ${format.money(high, currency)} per dm², half of what ${lines} lines were quoted at`;

export const priceHint = `Half of the prices of sent and accepted quotations lie between; nothing is said below ${LEAST_QUOTED} lines.`;

const verdictBadges = {
  proved: { label: 'proved on it', tone: 'good' },
  nearest: { label: 'proved on a near one', tone: 'caution' },
  none: { label: 'proved on nothing', tone: 'quiet' },
} as const satisfies Record<EvidenceVerdict['state'], { label: string; tone: string }>;

/** Near in metal or in nothing but the recipe. */
export const verdictBadge = (verdict: EvidenceVerdict, sameMetal: boolean) =>
  verdict.state === 'nearest' && !sameMetal
    ? { label: 'proved on another metal', tone: 'caution' as const }
    : verdictBadges[verdict.state];
