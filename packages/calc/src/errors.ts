/** Why an input cannot be computed with. `impossible` also covers a physically contradictory combination. */
export type CalcErrorCode = 'not-finite' | 'out-of-range' | 'unknown' | 'impossible' | 'malformed';

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
}
