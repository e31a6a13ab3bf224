import { ciede2000 } from '../../colour/delta-e.ts';
import { leastSquares } from '../../numeric/least-squares.ts';
import type { VoltageColours } from './colour-dips.ts';
import { weightOf } from './refine-fit.ts';

/**
 * What is left of the variance of a law at one voltage when a coupon is added at another, as a share, 0 to 1. Coupons weigh as
 * in the fit: where colour is steep they fix their thickness best.
 */
export function varianceLeft({
  colours,
  voltagesV,
  terms,
  aboutVoltageV,
}: {
  colours: VoltageColours;
  voltagesV: readonly number[];
  /** 2 of a straight law, 3 of a bowed one. */
  terms: number;
  aboutVoltageV: number;
}): (addedV: number) => number {
  const powers = (voltageV: number) => Array.from({ length: terms }, (_, power) => voltageV ** power);
  const varianceOf = (voltages: readonly number[]): number => {
    const roots = voltages.map((voltageV) => Math.sqrt(weightOf(steepnessPerNm(colours, voltageV))));
    const columns = powers(0).map((_, power) =>
      voltages.map((voltageV, index) => (roots[index] ?? NaN) * voltageV ** power),
    );
    const inverse = leastSquares(
      columns,
      voltages.map(() => 0),
    )?.inverseNormal();
    if (inverse === undefined) return Infinity;
    const about = powers(aboutVoltageV);
    return inverse
      .flatMap((row, i) => row.map((value, j) => value * (about[i] ?? NaN) * (about[j] ?? NaN)))
      .reduce((total, value) => total + value, 0);
  };
  const before = varianceOf(voltagesV);
  return (addedV) => varianceOf([...voltagesV, addedV]) / before;
}

/** How fast the colour changes with thickness, dE00 per nm: a step of voltage thickens the film by a nanometre at most. */
export function steepnessPerNm({ labAt, stepV, thicknessAt }: VoltageColours, voltageV: number): number {
  const [from, to] = [Math.max(0, voltageV - stepV / 2), voltageV + stepV / 2];
  return ciede2000(labAt(from), labAt(to)) / Math.max(thicknessAt(to) - thicknessAt(from), 0.01);
}
