interface Range {
  low: number | null;
  high: number | null;
}

/**
 * A range in words, its unit once where both ends have the same; empty where it is open at both ends.
 *
 * @example
 * rangeInWords({ low: 27.5, high: 28.5 }, (value) => `${value}\u00a0V`) // '27.5 to 28.5 V'
 * rangeInWords({ low: null, high: 65 }, (value) => `${value} °C`) // 'at most 65 °C'
 */
export function rangeInWords({ low, high }: Range, text: (value: number) => string): string {
  if (low !== null && high !== null) {
    const [from, to] = [text(low), text(high)];
    const unit = /\u00a0\D*$/.exec(to)?.[0] ?? '';
    return `${unit !== '' && from.endsWith(unit) ? from.slice(0, -unit.length) : from} to ${to}`;
  }
  if (low !== null) return `at least ${text(low)}`;
  return high === null ? '' : `at most ${text(high)}`;
}
