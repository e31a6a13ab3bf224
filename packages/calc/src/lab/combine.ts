import type { BathComponent } from '../bath/titration/flask.ts';

/**
 * Critical range of n results of one person and one instrument over their standard deviation, at 95 %. Source: ISO
 * 5725-6, from memory (2.8 is the repeatability limit of two).
 */
const criticalRange: Readonly<Record<number, number>> = { 2: 2.8, 3: 3.3, 4: 3.6 };

export interface Combined {
  value: number;
  standardUncertainty: number;
  /** Highest less lowest of the replicates; null for one. */
  range: number | null;
  /** Whether the range is more than the readings' own uncertainty explains. */
  beyondRepeatability: boolean;
}

/**
 * Mean of replicates. What all share (titrant, density) stays whole in the uncertainty of the mean; what each flask
 * has of its own falls with their number, unless the replicates themselves scatter more.
 */
export function combine(
  values: readonly number[],
  { common, own }: { common: number; own: number },
): Combined {
  const n = values.length;
  const value = values.reduce((sum, one) => sum + one, 0) / n;
  if (n === 1)
    return {
      value,
      standardUncertainty: Math.hypot(common, own),
      range: null,
      beyondRepeatability: false,
    };
  const scatter = Math.sqrt(values.reduce((sum, one) => sum + (one - value) ** 2, 0) / (n - 1));
  const range = Math.max(...values) - Math.min(...values);
  return {
    value,
    standardUncertainty: Math.hypot(common, Math.max(own, scatter) / Math.sqrt(n)),
    range,
    beyondRepeatability: range > (criticalRange[n] ?? 3.6) * own,
  };
}

/** Splits the uncertainty of a component into what all flasks share and what each has of its own. */
export function splitUncertainty({
  whole,
  name,
  withoutOwn,
}: {
  name: 'massFraction' | 'gramsPerLitre' | 'molPerLitre';
  whole: BathComponent;
  withoutOwn: BathComponent;
}): { common: number; own: number } {
  const total = whole.standardUncertainty[name];
  const common = withoutOwn.standardUncertainty[name];
  return { common, own: Math.sqrt(Math.max(0, total ** 2 - common ** 2)) };
}
