import type { BathChart } from '@huelot/contracts';

/**
 * From when on the work through a tank is asked for: the latest fill with results to compare, or the baseline that somebody
 * saved. A drift is a fill's own, and ten years of sign-offs are many.
 *
 * @example
 * workSince({ points: { atMs: [1, 2, 3, 4], fill: [0, 0, 1, 1] }, baseline: null }) // 3
 */
export function workSince({
  points: { atMs, fill },
  baseline,
}: {
  points: Pick<BathChart['points'], 'atMs' | 'fill'>;
  baseline: { from: string } | null;
}): number {
  const startsFill = (place: number) => place === 0 || fill[place] !== fill[place - 1];
  const latest = fill.findLastIndex((one, place) => startsFill(place) && fill[place + 1] === one);
  const saved = baseline === null ? Infinity : Date.parse(baseline.from);
  return Math.min(atMs[Math.max(0, latest)] ?? saved, saved);
}
