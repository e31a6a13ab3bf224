import { protectionRatio } from '@huelot/calc';
import type { PolarizationScanItem, ScanFinish } from '@huelot/contracts';

/** Scans that may be compared: of one material in one medium. */
export interface RateGroup {
  key: string;
  name: string;
  scans: PolarizationScanItem[];
}

const materialName = ({ material }: PolarizationScanItem) =>
  [material.name, material.condition].filter(Boolean).join(', ');

/** Scans by material and medium, those with most scans first. */
export function rateGroups(scans: readonly PolarizationScanItem[]): RateGroup[] {
  const groups = new Map<string, RateGroup>();
  for (const scan of scans) {
    const medium = scan.medium.trim().toLowerCase();
    const key = `${scan.material.id} ${medium}`;
    const group = groups.get(key) ?? { key, name: `${materialName(scan)} in ${scan.medium}`, scans: [] };
    group.scans.push(scan);
    groups.set(key, group);
  }
  return [...groups.values()].sort((one, other) => other.scans.length - one.scans.length);
}

export interface FinishRatio {
  finish: ScanFinish;
  film: string;
  scans: number;
  /** How many times slower than bare. */
  ratio: number;
  /** 95 %; null where a finish has one scan without an interval. */
  interval: { low: number; high: number } | null;
  flags: string[];
}

const logMean = (rates: readonly number[]) =>
  Math.exp(rates.reduce((sum, rate) => sum + Math.log(rate), 0) / rates.length);

/** Relative standard uncertainty of the mean of scans: their scatter, or the interval of a lone one. */
function uncertaintyOf(scans: readonly PolarizationScanItem[]): number | null {
  const [first] = scans;
  if (scans.length > 1) {
    const logs = scans.map(({ result }) => Math.log(result.mmPerYear));
    const mean = logs.reduce((sum, one) => sum + one, 0) / logs.length;
    const variance = logs.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (logs.length - 1);
    return Math.sqrt(variance / logs.length);
  }
  const interval = first?.result.intervalMmPerYear ?? null;
  return interval === null ? null : Math.log(interval.high / interval.low) / (2 * 1.96);
}

/**
 * How many times slower each finish corrodes than the bare metal of the same group. Nothing where no bare specimen was
 * scanned: nothing protects against a rate that nobody knows.
 */
export function finishRatios({ scans }: RateGroup): FinishRatio[] {
  const bare = scans.filter(({ finish }) => finish === 'bare');
  if (bare.length === 0) return [];
  const finishes = new Map<string, PolarizationScanItem[]>();
  for (const scan of scans) {
    if (scan.finish === 'bare') continue;
    const key = `${scan.finish} ${scan.film}`;
    finishes.set(key, [...(finishes.get(key) ?? []), scan]);
  }
  const rateOf = (some: readonly PolarizationScanItem[]) =>
    logMean(some.map(({ result }) => result.mmPerYear));
  const uBare = uncertaintyOf(bare);
  return [...finishes.values()].flatMap((some) => {
    const [first] = some;
    if (first === undefined) return [];
    const uTreated = uncertaintyOf(some);
    const { ratio, relativeUncertainty, flags } = protectionRatio({
      ...{ bareRate: rateOf(bare), treatedRate: rateOf(some) },
      ...{ bareRelativeUncertainty: uBare ?? 0, treatedRelativeUncertainty: uTreated ?? 0 },
    });
    const spread = Math.exp(1.96 * relativeUncertainty);
    return [
      {
        ...{ finish: first.finish, film: first.film, scans: some.length, ratio, flags },
        interval: uBare === null || uTreated === null ? null : { low: ratio / spread, high: ratio * spread },
      },
    ];
  });
}
