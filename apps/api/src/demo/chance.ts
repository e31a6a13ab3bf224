/** A seeded source of chance (mulberry32), so that the invented shop is the same on every machine. */
export function seededRandom(seed: number) {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  const between = (low: number, high: number) => low + (high - low) * next();
  return {
    between,
    whole: (low: number, high: number) => Math.floor(between(low, high + 1)),
    one: <T>(items: readonly T[]): T => items[Math.floor(next() * items.length)] as T,
    happens: (share: number) => next() < share,
    /** Around the middle, mostly within a third of the half-width. */
    near: (middle: number, halfWidth: number) => middle + halfWidth * 0.5 * (next() + next() + next() - 1.5),
  };
}
export type Random = ReturnType<typeof seededRandom>;
