export type Table = readonly (readonly [number, number])[];

/** Straight lines between the points of a table that rises in its first column; flat beyond both ends. */
export function interpolate(table: Table, x: number): number {
  const next = table.findIndex(([at]) => at >= x);
  const high = table.at(next);
  const low = next > 0 ? table[next - 1] : high;
  if (!low || !high) throw new RangeError('an empty table has no values');
  if (low === high) return high[1];
  return low[1] + ((high[1] - low[1]) * (x - low[0])) / (high[0] - low[0]);
}
