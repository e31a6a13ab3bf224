/** What is compared, what was found, what the source prints, and how far the two may lie apart. */
export type WorkedExample = readonly [name: string, found: number, right: number, within: number];

/** Rows for `it.each`, one printed figure each. */
export const workedExamples = (
  rows: readonly WorkedExample[],
): { name: string; found: number; right: number; within: number }[] =>
  rows.map(([name, found, right, within]) => ({ name, found, right, within }));
