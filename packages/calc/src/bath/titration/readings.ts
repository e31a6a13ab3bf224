import { checkName, checkNumber } from '../../check.ts';
import { CalcError } from '../../errors.ts';

/** Where the second reading counts from: the start of the titration, or the first end point. */
export type SecondReading = 'from-zero' | 'from-first';

export interface TwoEndPoints {
  firstEndPointMl: number;
  secondEndPointMl: number;
  secondReading: SecondReading;
}

/** Both end points counted from zero. */
export function fromZero({
  firstEndPointMl,
  secondEndPointMl,
  secondReading,
}: TwoEndPoints): [number, number] {
  const first = checkNumber('firstEndPointMl', firstEndPointMl, { min: 0, max: 1000 });
  const second = checkNumber('secondEndPointMl', secondEndPointMl, { min: 0, max: 1000 });
  const counts = checkName('secondReading', secondReading, ['from-zero', 'from-first']);
  if (counts === 'from-first') return [first, first + second];
  notBelow({ argument: 'secondEndPointMl', value: second, least: first, what: 'first end point' });
  return [first, second];
}

/** A reading that cannot lie below another one is questioned at once. */
export function notBelow(input: { argument: string; value: number; least: number; what: string }): void {
  if (input.value >= input.least) return;
  throw new CalcError({
    code: 'impossible',
    argument: input.argument,
    given: input.value,
    allowed: `at least the ${input.what} of ${input.least} mL`,
  });
}
