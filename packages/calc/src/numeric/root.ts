/**
 * The root of `f` between `low` and `high`, where it changes sign, by bisection down to neighbouring numbers.
 * Slow but sure: callers use it where a monotone curve has to be read backwards.
 */
export function bisect({ f, low, high }: { f: (x: number) => number; low: number; high: number }): number {
  const rising = f(high) >= f(low);
  let [a, b] = [low, high];
  for (;;) {
    const middle = a + (b - a) / 2;
    if (middle <= a || middle >= b) return middle;
    const beyond = f(middle) > 0 === rising;
    if (beyond) b = middle;
    else a = middle;
  }
}
