/** How the edges of a mesh find their partners. */
export interface EdgeCount {
  /** Edges that bound one facet only, or an odd number of them: holes. */
  open: number;
  /** Edges whose two facets run along them the same way: one of the two faces the wrong side. */
  flipped: number;
  /** The points on all of those. */
  loose: Int32Array;
}

/** Up to here a list is sorted in place; typed arrays cost more to sort than so few numbers do. */
const SHORT = 48;

/**
 * Pairs the edges of facets. `pointOf` numbers the corners' points; facets that have lost an edge (two corners on one
 * point) are passed over edge by edge.
 *
 * Each edge is filed under its lower point (a counting sort), as its higher point and direction in one number; sorting the
 * few that share a lower point brings partners together. No hash table, and two arrays of one number an edge.
 */
export function countEdges(ids: Int32Array, points: number, pointOf: (id: number) => number): EdgeCount {
  const starts = new Int32Array(points + 1);
  const eachEdge = (visit: (low: number, entry: number) => void): void => {
    for (let corner = 0; corner < ids.length; corner++) {
      const following = corner % 3 === 2 ? corner - 2 : corner + 1;
      const from = pointOf(ids[corner] ?? 0);
      const to = pointOf(ids[following] ?? 0);
      if (from < to) visit(from, 2 * to);
      else if (to < from) visit(to, 2 * from + 1);
    }
  };
  eachEdge((low) => {
    starts[low + 1] = (starts[low + 1] ?? 0) + 1;
  });
  for (let point = 0; point < points; point++)
    starts[point + 1] = (starts[point + 1] ?? 0) + (starts[point] ?? 0);
  const entries = new Int32Array(starts[points] ?? 0);
  const filled = starts.slice(0, points);
  eachEdge((low, entry) => {
    const place = filled[low] ?? 0;
    entries[place] = entry;
    filled[low] = place + 1;
  });
  return pairUp(entries, starts);
}

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
  return { open, flipped, loose: placesOf(isLoose) };
}

function placesOf(marks: Uint8Array): Int32Array {
  const places = new Int32Array(marks.reduce((sum, mark) => sum + mark, 0));
  let next = 0;
  marks.forEach((mark, place) => {
    if (mark === 1) places[next++] = place;
  });
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
