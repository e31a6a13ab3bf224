import { checkNumber } from '../../check.ts';
import { CalcError } from '../../errors.ts';

/** Time in which the supply was off and the strip stayed in, seconds since it went in. */
export interface StripPause {
  fromS: number;
  toS: number;
}

/**
 * How long each band of a strip was under voltage, by when it was really lifted: for {@link withdrawalTrials} where lifts
 * were not as even as planned.
 *
 * `liftsS` when it was lifted by one step each, and `outS` when the rest came out, in seconds since it went in, each later
 * than the one before; `pauses` in which the supply was off, in their order and not overlapping. Bands in the order in which
 * they left: one for each lift, and the last with the rest.
 * Source: definition.
 * Errors: `out-of-range` for a time that is not after the one before, or for a band that was never under voltage;
 * `not-finite`.
 *
 * @example
 * liftedBandTimes({ liftsS: [60, 121, 185], outS: 240, pauses: [{ fromS: 130, toS: 140 }] }) // [60, 121, 175, 230]
 */
export function liftedBandTimes(input: {
  liftsS: readonly number[];
  outS: number;
  pauses: readonly StripPause[];
}): number[] {
  const leftS = [...input.liftsS, input.outS];
  let before = 0;
  leftS.forEach((at, index) => {
    before = checkNumber(index < input.liftsS.length ? `liftsS[${index}]` : 'outS', at, {
      above: before,
      max: 1e6,
    });
  });
  let free = 0;
  input.pauses.forEach(({ fromS, toS }, index) => {
    const from = checkNumber(`pauses[${index}].fromS`, fromS, { min: free, max: 1e6 });
    free = checkNumber(`pauses[${index}].toS`, toS, { min: from, max: 1e6 });
  });
  return leftS.map((at, index) => {
    const off = input.pauses.reduce(
      (sum, { fromS, toS }) => sum + Math.max(0, Math.min(toS, at) - Math.min(fromS, at)),
      0,
    );
    if (at - off > 0) return at - off;
    throw new CalcError({
      code: 'out-of-range',
      argument: `bands[${index}]`,
      given: at - off,
      allowed: 'above 0: the supply was on for some of its time',
    });
  });
}
