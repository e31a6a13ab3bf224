import type { Scale } from './linear-scale.ts';

/**
 * A scale on which each power of ten takes as much room as the next. Ticks stand at the powers, and at 2 and 5 of them where
 * few fit.
 *
 * @example
 * logScale([0.01, 1], [0, 200])(0.1) // 100
 */
export function logScale([low, high]: [number, number], [from, to]: [number, number]): Scale {
  const [first, last] = [Math.log10(low), Math.log10(high)];
  const scale = (value: number) => from + ((Math.log10(value) - first) / (last - first)) * (to - from);
  const ticks = () => {
    const steps = last - first < 1.5 ? [1, 2, 5] : [1];
    const powers = Array.from(
      { length: Math.ceil(last) - Math.floor(first) + 1 },
      (_, index) => Math.floor(first) + index,
    );
    return powers
      .flatMap((power) => steps.map((step) => Number(`${step}e${power}`)))
      .filter((value) => value >= low * (1 - 1e-9) && value <= high * (1 + 1e-9));
  };
  return Object.assign(scale, {
    ticks,
    tickFormat: () => (value: number) => String(Number(value.toPrecision(2))),
  });
}

/** The powers of ten around some values above 0: at least one of them apart. */
export function powersAround(values: readonly number[]): [number, number] {
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const low = 10 ** Math.floor(Math.log10(least));
  return [low, Math.max(10 * low, 10 ** Math.ceil(Math.log10(most)))];
}
