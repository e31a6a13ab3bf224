/** How the edges of a mesh find their partners. */
export interface EdgeCount {
  /** Edges that bound one facet only, or an odd number of them: holes. */
  open: number;
  /** Edges whose two facets run along them the same way: one of the two faces the wrong side. */
  flipped: number;
  /** For each point 1 when it lies on one of those. */
  isLoose: Uint8Array;
}

/** Up to here a list is sorted in place; typed arrays cost more to sort than so few numbers do. */
const SHORT = 48;

/**
 * Pairs the edges of facets. `ids` numbers the corners' points, `labels` says which of these count as one; facets that
 * have lost an edge (two corners on one point) are passed over edge by edge.
 *
 * Each edge is filed under its lower point (a counting sort), as its higher point and direction in one number; sorting the
 * few that share a lower point brings partners together. No hash table, and two arrays: one number a point, one an edge.
 */
export function countEdges(ids: Int32Array, points: number, labels?: Int32Array): EdgeCount {
  const pointAt = (corner: number): number => {
    const id = ids[corner] ?? 0;
    return labels ? (labels[id] ?? 0) : id;
  };
  const starts = new Int32Array(points + 1);
  for (let corner = 0; corner < ids.length; corner++) {
    const [from, to] = [pointAt(corner), pointAt(followingOf(corner))];
    const low = Math.min(from, to);
    if (from !== to) starts[low] = (starts[low] ?? 0) + 1;
  }
  let edges = 0;
  for (let point = 0; point <= points; point++) starts[point] = edges += starts[point] ?? 0;
  // Each list is filled from its end, which leaves its start behind.
  const entries = new Int32Array(edges);
  for (let corner = 0; corner < ids.length; corner++) {
    const [from, to] = [pointAt(corner), pointAt(followingOf(corner))];
    if (from === to) continue;
    const low = Math.min(from, to);
    const place = (starts[low] ?? 0) - 1;
    starts[low] = place;
    entries[place] = from < to ? 2 * to : 2 * from + 1;
  }
  return pairUp(entries, starts);
}

/** The next corner of the same facet. */
const followingOf = (corner: number): number => (corner % 3 === 2 ? corner - 2 : corner + 1);

function pairUp(entries: Int32Array, starts: Int32Array): EdgeCount {
  const isLoose = new Uint8Array(starts.length - 1);
  let [open, flipped] = [0, 0];
  for (let low = 0; low + 1 < starts.length; low++) {
    const end = starts[low + 1] ?? 0;
    let at = starts[low] ?? 0;
    sortRange(entries, at, end);
    while (at < end) {
      const high = (entries[at] ?? 0) >> 1;
      let [forward, backward] = [0, 0];
      for (; at < end && (entries[at] ?? 0) >> 1 === high; at++) {
        if (((entries[at] ?? 0) & 1) === 0) forward++;
        else backward++;
      }
      if (forward === backward) continue;
      if ((forward + backward) % 2 === 1) open++;
      else flipped++;
      isLoose[low] = isLoose[high] = 1;
    }
  }
  return { open, flipped, isLoose };
}

/** The places that are marked with 1. */
export function placesOf(marks: Uint8Array): Int32Array {
  let count = 0;
  for (let place = 0; place < marks.length; place++) count += marks[place] ?? 0;
  const places = new Int32Array(count);
  for (let place = 0, next = 0; next < count; place++) if (marks[place] === 1) places[next++] = place;
  return places;
}

function sortRange(entries: Int32Array, start: number, end: number): void {
  if (end - start > SHORT) {
    entries.subarray(start, end).sort();
    return;
  }
  for (let i = start + 1; i < end; i++) {
    const entry = entries[i] ?? 0;
    let j = i - 1;
    while (j >= start && (entries[j] ?? 0) > entry) {
      entries[j + 1] = entries[j] ?? 0;
      j--;
    }
    entries[j + 1] = entry;
  }
}
