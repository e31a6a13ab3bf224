interface Range {
  low: number | null;
  high: number | null;
}

/**
 * A range in words; empty where it is open at both ends.
 *
 * @example
 * rangeInWords({ low: 27.5, high: 28.5 }, (value) => `${value} V`) // '27.5 V to 28.5 V'
 * rangeInWords({ low: null, high: 65 }, (value) => `${value} °C`) // 'at most 65 °C'
 */
export function rangeInWords({ low, high }: Range, text: (value: number) => string): string {
  if (low !== null && high !== null) return `${text(low)} to ${text(high)}`;
  if (low !== null) return `at least ${text(low)}`;
  return high === null ? '' : `at most ${text(high)}`;
}
