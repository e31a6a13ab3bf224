/** A binary STL of a closed torus, two facets a cell of the grid: 2 × around × along facets. */
export function torusStl({ around, along }: { around: number; along: number }): Uint8Array {
  const facets = 2 * around * along;
  const bytes = new Uint8Array(84 + 50 * facets);
  const view = new DataView(bytes.buffer);
  view.setUint32(80, facets, true);
  let offset = 84;
  const corner = (i: number, j: number): void => {
    const u = (2 * Math.PI * (i % around)) / around;
    const v = (2 * Math.PI * (j % along)) / along;
    const reach = 40 + 15 * Math.cos(v);
    for (const value of [reach * Math.cos(u), reach * Math.sin(u), 15 * Math.sin(v)]) {
      view.setFloat32(offset, value, true);
      offset += 4;
    }
  };
  const facet = (...corners: [number, number][]): void => {
    offset += 12;
    for (const [i, j] of corners) corner(i, j);
    offset += 2;
  };
  for (let i = 0; i < around; i++) {
    for (let j = 0; j < along; j++) {
      facet([i, j], [i + 1, j], [i + 1, j + 1]);
      facet([i, j], [i + 1, j + 1], [i, j + 1]);
    }
  }
  return bytes;
}

/** Moves each facet a little by itself: then no corner matches another, and every edge is open. */
export function pullApart(stl: Uint8Array): void {
  const view = new DataView(stl.buffer);
  const facets = view.getUint32(80, true);
  for (let facet = 0; facet < facets; facet++) {
    // Multiples of the golden ratio less their whole part: never twice the same.
    const shift = 0.004 * ((facet * 0.6180339887) % 1);
    for (let at = 96 + 50 * facet; at < 132 + 50 * facet; at += 4) {
      view.setFloat32(at, view.getFloat32(at, true) + shift, true);
    }
  }
}
