const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** Where a function with one dip between `low` and `high` is lowest, to `tolerance`, by golden section. */
export function goldenSection(input: {
  f: (x: number) => number;
  low: number;
  high: number;
  tolerance?: number;
}): number {
  const { f, tolerance = 1e-3 } = input;
  let { low, high } = input;
  let left = high - GOLDEN * (high - low);
  let right = low + GOLDEN * (high - low);
  let [fLeft, fRight] = [f(left), f(right)];
  while (high - low > tolerance) {
    if (fLeft <= fRight) {
      [high, right, fRight] = [right, left, fLeft];
      left = high - GOLDEN * (high - low);
      fLeft = f(left);
    } else {
      [low, left, fLeft] = [left, right, fRight];
      right = low + GOLDEN * (high - low);
      fRight = f(right);
    }
  }
  return (low + high) / 2;
}
