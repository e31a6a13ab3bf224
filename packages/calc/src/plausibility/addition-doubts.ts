import { checkFinite, checkNumber } from '../check.ts';

/** What speaks against an addition as it is planned or was done. */
export type AdditionDoubt =
  | { code: 'stands-too-high'; standsL: number; roomL: number }
  | { code: 'takes-too-much'; takenL: number; stoodL: number }
  | { code: 'began-too-hot'; temperatureC: number; limitC: number }
  | { code: 'ended-too-hot'; temperatureC: number; limitC: number };

export interface LevelMove {
  action: 'decant' | 'add-water' | 'add-stock' | 'filter' | 'electrode' | 'mix-and-cool' | 'analyse';
  kg: number;
  /** Null for what is weighed. */
  volumeL: number | null;
}

/** What a kilogram of solid takes up once dissolved, litres: that of caustic flake into 47 wt%, by the density tables. */
const dissolvedLPerKg = 0.45;
/** A level is read to about this share of what stands there. Common practice, no source. */
const readWithin = 0.02;

const litresOf = ({ action, kg, volumeL }: LevelMove): number =>
  volumeL ?? (action === 'add-stock' ? dissolvedLPerKg : 1) * kg;

/**
 * Litres that stand in a tank at the highest while things are taken and given in this order, and the most that is taken
 * beyond what stands there; solids count 0.45 L a kilogram, water and decants that are weighed a litre.
 *
 * Valid for volumeL and every amount 0 and up. Source: volumes added up, which errs on the safe side. Errors: `out-of-range` or
 * `not-finite`.
 *
 * @example
 * levelAfter({ volumeL: 192, moves: [{ action: 'add-stock', kg: 16.5, volumeL: null }] }) // { highestL: 199.425, overdrawnL: 0 }
 */
export function levelAfter(input: { volumeL: number; moves: readonly LevelMove[] }): {
  highestL: number;
  overdrawnL: number;
} {
  checkFinite('', input);
  let standsL = checkNumber('volumeL', input.volumeL, { min: 0 });
  let [highestL, overdrawnL] = [standsL, 0];
  input.moves.forEach((move, index) => {
    checkNumber(`moves.${index}.kg`, move.kg, { min: 0 });
    const litres = checkNumber(`moves.${index}.volumeL`, litresOf(move), { min: 0 });
    if (move.action === 'decant') {
      overdrawnL = Math.max(overdrawnL, litres - standsL);
      standsL = Math.max(0, standsL - litres);
    } else if (move.action === 'add-water' || move.action === 'add-stock') standsL += litres;
    highestL = Math.max(highestL, standsL);
  });
  return { highestL, overdrawnL };
}

/**
 * What speaks against an addition: it rises above the room of the tank, takes more than stands there, was begun hotter than
 * portions may go in, or ended hotter than the tank may be. Empty when nothing does; what nobody read is null and not judged.
 *
 * Valid for volumes 0 and up. Source: {@link levelAfter}; a level is believed within 2 %, common practice, no source.
 * Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * additionDoubts({
 *   volumeL: 200,
 *   moves: [{ action: 'add-water', kg: 40, volumeL: 40 }],
 *   roomL: 220,
 *   beforeC: null,
 *   afterC: null,
 *   stopAboveC: null,
 *   maxC: null,
 * })
 * // [{ code: 'stands-too-high', standsL: 240, roomL: 220 }]
 */
export function additionDoubts(input: {
  /** What stands in the tank before; null where nobody knows. */
  volumeL: number | null;
  moves: readonly LevelMove[];
  /** The highest level allowed, in litres. */
  roomL: number | null;
  /** Of the bath before and after. */
  beforeC: number | null;
  afterC: number | null;
  /** Of {@link portionGate}; null where nothing warms. */
  stopAboveC: number | null;
  /** The highest temperature of the tank. */
  maxC: number | null;
}): AdditionDoubt[] {
  checkFinite('', input);
  const { volumeL, moves, roomL, beforeC, afterC, stopAboveC, maxC } = input;
  const doubts: AdditionDoubt[] = [];
  if (volumeL !== null) {
    const { highestL, overdrawnL } = levelAfter({ volumeL, moves });
    const rises = highestL > volumeL;
    if (roomL !== null && rises && highestL > roomL * (1 + readWithin))
      doubts.push({ code: 'stands-too-high', standsL: highestL, roomL });
    if (overdrawnL > readWithin * volumeL)
      doubts.push({ code: 'takes-too-much', takenL: overdrawnL + volumeL, stoodL: volumeL });
  }
  if (beforeC !== null && stopAboveC !== null && beforeC > stopAboveC)
    doubts.push({ code: 'began-too-hot', temperatureC: beforeC, limitC: stopAboveC });
  if (afterC !== null && maxC !== null && afterC > maxC)
    doubts.push({ code: 'ended-too-hot', temperatureC: afterC, limitC: maxC });
  return doubts;
}
