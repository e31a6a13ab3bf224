import type { Characteristic, LotInspection, SeverityName } from '@huelot/contracts';

/** How severity is told: word and tone. */
export const severityStates = {
  normal: { label: 'normal', tone: 'quiet', icon: 'inspection' },
  tightened: { label: 'tightened', tone: 'caution' },
  reduced: { label: 'reduced', tone: 'good' },
  stopped: { label: 'discontinued', tone: 'danger' },
} as const satisfies Record<SeverityName, { label: string; tone: string; icon?: string }>;

/** How a characteristic is sampled, in words. */
export const samplingWords = (sampling: Characteristic['sampling']): string =>
  sampling === null ? 'every piece' : `sample at level ${sampling.level}, AQL ${sampling.aql}`;

/** What the tables ask for in a lot, in words. */
export function askedWords({
  asked,
  sampling,
  lotSize,
}: Pick<LotInspection['characteristics'][number], 'asked' | 'sampling'> & { lotSize: number }): string {
  if (sampling === null) return `every piece: ${lotSize}`;
  if (asked === null) return 'nothing waits to be inspected';
  return `${asked.inspect} of ${lotSize}, letter ${asked.letter}: accept at ${asked.ac}, reject at ${asked.re}`;
}
