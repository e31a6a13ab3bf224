/** What a source prints, and how far a result may lie from it. */
export type Printed = readonly [right: number, within: number];

/** A printed figure, right to half of its last digit. */
export const printed = (text: string): Printed => {
  const decimals = text.split('.')[1]?.length ?? 0;
  return [Number(text), 0.5 * 10 ** -decimals];
};

/** A figure that stoichiometry gives without rounding. */
export const exactly = (right: number): Printed => [right, 1e-9];

/**
 * What is compared, how it is found, what the source prints, and how far the two may lie apart. It is found inside the test, so
 * that the mutation runner sees which code the test runs.
 */
export type WorkedExample = readonly [name: string, found: () => number, ...printed: Printed];

/** Rows for `it.each`, one printed figure each. */
export const workedExamples = (
  rows: readonly WorkedExample[],
): { name: string; found: () => number; right: number; within: number }[] =>
  rows.map(([name, found, right, within]) => ({ name, found, right, within }));
