/** Why an input cannot be computed with. `impossible` also covers a physically contradictory combination. */
export type CalcErrorCode = 'not-finite' | 'out-of-range' | 'unknown' | 'impossible' | 'malformed';

/**
 * A fault in words for whoever typed the figure, without the name of its argument: the field says that.
 *
 * Valid for any fault of this package. Source: none. No errors.
 *
 * @example
 * faultWords({ code: 'out-of-range', given: '-1', allowed: '0 to 1000' }) // '-1 cannot be: 0 to 1000 is allowed'
 */
export function faultWords(fault: Pick<CalcError, 'code' | 'given' | 'allowed'>): string {
  const { code, given, allowed } = fault;
  if (code === 'not-finite') return 'this must be a number';
  const shown = typeof given === 'number' || typeof given === 'string' ? String(given) : 'this';
  return code === 'impossible'
    ? `${shown} cannot be: it takes ${allowed}`
    : `${shown} cannot be: ${allowed} is allowed`;
}

/**
 * Thrown for an input no answer exists for; a result that merely leaves the range of its source is returned
 * with a flag instead. Carries everything a form needs to point at the field.
 *
 * @example
 * new CalcError({ code: 'out-of-range', argument: 'massFraction', given: 1.2, allowed: '0 to 1' }).message
 * // 'massFraction is 1.2; allowed: 0 to 1'
 */
export class CalcError extends Error {
  readonly code: CalcErrorCode;
  readonly argument: string;
  readonly given: unknown;
  readonly allowed: string;

  constructor(fault: { code: CalcErrorCode; argument: string; given: unknown; allowed: string }) {
    super(`${fault.argument} is ${String(fault.given)}; allowed: ${fault.allowed}`);
    this.name = 'CalcError';
    this.code = fault.code;
    this.argument = fault.argument;
    this.given = fault.given;
    this.allowed = fault.allowed;
  }

  /**
   * What is allowed, as it stands beside the field that shows what was given.
   *
   * @example
   * new CalcError({ code: 'out-of-range', argument: 'voltageV', given: -1, allowed: 'at least 0' }).rule
   * // 'must be at least 0'
   */
  get rule(): string {
    return /^(at (least|most)|more|less|up to|below|between|a|an|exactly|either|enough|\d)\b/.test(
      this.allowed,
    )
      ? `must be ${this.allowed}`
      : `does not fit; allowed: ${this.allowed}`;
  }

  /**
   * The refusal as a sentence for where no field shows the value: the argument in words, places counted from 1, without units.
   *
   * @example
   * new CalcError({ code: 'out-of-range', argument: 'quantities[0]', given: 0, allowed: 'at least 1' }).sentence
   * // 'Quantities 1 must be at least 1.'
   */
  get sentence(): string {
    const words = this.argument
      .replace(/\[(\d+)\]/g, (_, index: string) => ` ${Number(index) + 1}`)
      .split('.')
      .map(nameInWords)
      .join(', ');
    return `${words.charAt(0).toUpperCase()}${words.slice(1)} ${this.rule}.`;
  }

  /** The argument as a dotted path, `quantities[0]` as `quantities.0`. */
  get path(): string {
    return this.argument.replace(/\[(\d+)\]/g, '.$1');
  }
}

/**
 * The name of an argument as a person would say it, without its unit.
 *
 * @example
 * nameInWords('outerDiameterMm') // 'outer diameter'
 */
export const nameInWords = (name: string): string =>
  name
    .replace(/(?<=[a-z])(APerM2|KgPerM3|PerM2|Mm[23]?|Kwh?|Kg|Ml|[ACLSVW])$/, '')
    .replace(/(?<=[a-z])[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
