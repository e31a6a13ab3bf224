import { checkNumber } from '../check.ts';

const LEAST_NM = 1;
const MOST_NM = 100_000;
/** A slip from nanometres to micrometres is a thousandfold; methods that differ so much differ by a unit. */
const APART = 100;

/**
 * Why a measured thickness should be looked at again before it is kept: it is no film of this trade, or lies so far from what other
 * methods gave of the same coupon that a unit slipped. Empty where nothing is odd.
 *
 * Thicknesses above 0, nm. Common practice, no source: coloured films are 1 nm to 100 µm.
 * Errors: `not-finite`, `out-of-range`.
 *
 * @example
 * thicknessDoubts({ thicknessNm: 80_000, othersNm: [82] }).length // 1
 */
export function thicknessDoubts({
  thicknessNm,
  othersNm,
}: {
  thicknessNm: number;
  othersNm: readonly number[];
}): string[] {
  const thickness = checkNumber('thicknessNm', thicknessNm, { above: 0 });
  const others = othersNm.map((one, index) => checkNumber(`othersNm[${index}]`, one, { above: 0 }));
  const doubts: string[] = [];
  if (thickness < LEAST_NM || thickness > MOST_NM)
    doubts.push(`this gives ${inWords(thickness)}; films that colour metal are 1 nm to 100 µm`);
  const far = others.find((one) => thickness / one > APART || one / thickness > APART);
  if (far !== undefined)
    doubts.push(
      `this gives ${inWords(thickness)}, and another method gave ${inWords(far)}: did a unit slip?`,
    );
  return doubts;
}

function inWords(nm: number): string {
  const [value, unit] = nm < 1000 ? [nm, 'nm'] : nm < 1e6 ? [nm / 1000, 'µm'] : [nm / 1e6, 'mm'];
  return `${Number(value.toPrecision(3))} ${unit}`;
}
