/**
 * Random numbers that come again: 0 to 1 (mulberry32, T. Ettinger 2017, public domain) and standard normal
 * (Box and Muller 1958).
 */
export function seeded(seed: number): { uniform: (low?: number, high?: number) => number; normal: () => number } {
  let state = seed | 0;
  const next = () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  return {
    uniform: (low = 0, high = 1) => low + (high - low) * next(),
    normal: () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next()),
  };
}
