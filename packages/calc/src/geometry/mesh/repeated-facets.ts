/**
 * Takes out of a mesh the facets that repeat an earlier one: the same three points, facing the same way. A file that holds
 * its surface twice is closed all the same (each edge has two partners each way), so nothing else would notice. Two facets
 * back to back are left: they are the two sides of a sheet without thickness, or of two bodies that touch.
 *
 * What is taken out gets one point at all three corners in `ids`. Facets are filed by their lowest point (a counting sort),
 * so that each is compared with the few that share it. Returns how many were taken out.
 */
export function dropRepeatedFacets(ids: Int32Array, points: number): number {
  const facets = ids.length / 3;
  const starts = new Int32Array(points + 1);
  for (let facet = 0; facet < facets; facet++) {
    const lowest = lowestOf(ids, facet);
    starts[lowest] = (starts[lowest] ?? 0) + 1;
  }
  let total = 0;
  for (let point = 0; point <= points; point++) starts[point] = total += starts[point] ?? 0;
  const filed = new Int32Array(facets);
  // From the last facet on, so that each list holds its facets in the order of the file.
  for (let facet = facets - 1; facet >= 0; facet--) {
    const lowest = lowestOf(ids, facet);
    const place = (starts[lowest] ?? 0) - 1;
    starts[lowest] = place;
    filed[place] = facet;
  }
  let dropped = 0;
  for (let point = 0; point < points; point++) {
    const end = starts[point + 1] ?? facets;
    for (let later = (starts[point] ?? 0) + 1; later < end; later++) {
      const facet = filed[later] ?? 0;
      for (let earlier = starts[point] ?? 0; earlier < later; earlier++) {
        if (!areSame(ids, facet, filed[earlier] ?? 0)) continue;
        ids.fill(point, 3 * facet, 3 * facet + 3);
        dropped++;
        break;
      }
    }
  }
  return dropped;
}

const lowestOf = (ids: Int32Array, facet: number): number =>
  Math.min(ids[3 * facet] ?? 0, ids[3 * facet + 1] ?? 0, ids[3 * facet + 2] ?? 0);

/** The same three different points in the same turn, from whichever corner each begins. */
function areSame(ids: Int32Array, one: number, other: number): boolean {
  const [a, b, c] = [ids[3 * one], ids[3 * one + 1], ids[3 * one + 2]];
  const [x, y, z] = [ids[3 * other], ids[3 * other + 1], ids[3 * other + 2]];
  if (a === b || b === c || c === a) return false;
  return (
    (a === x && b === y && c === z) || (a === y && b === z && c === x) || (a === z && b === x && c === y)
  );
}
