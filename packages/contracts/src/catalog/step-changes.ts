import type { Step } from './steps.ts';

/** A step of one revision beside its counterpart in another; null where there is none. */
export interface StepPair {
  older: { position: number; step: Step } | null;
  newer: { position: number; step: Step } | null;
  /** The fields that differ, when both are there. */
  changed: (keyof Step)[];
}

/**
 * Puts two routes side by side: steps that are the same one stand in one row, in the order of both, so that a step put
 * in at the front does not make all others look changed. Only steps of one kind are paired; a like title, contents and
 * settings draw them together.
 *
 * @example
 * pairSteps([clean, colour], [clean, rinse, colour]).map(({ older }) => older !== null) // [true, false, true]
 */
export function pairSteps(older: readonly Step[], newer: readonly Step[]): StepPair[] {
  const best = likenessTable(older, newer);
  const pairs: StepPair[] = [];
  let i = 0;
  let j = 0;
  while (i < older.length || j < newer.length) {
    const one = older[i];
    const other = newer[j];
    const here = best[i]?.[j] ?? 0;
    const together = one && other ? likeness(one, other) : 0;
    if (one && other && together > 0 && here === together + (best[i + 1]?.[j + 1] ?? 0)) {
      pairs.push({
        older: { position: i + 1, step: one },
        newer: { position: j + 1, step: other },
        changed: changedFields(one, other),
      });
      i += 1;
      j += 1;
    } else if (one && (other === undefined || here === (best[i + 1]?.[j] ?? 0))) {
      pairs.push({ older: { position: i + 1, step: one }, newer: null, changed: [] });
      i += 1;
    } else if (other) {
      pairs.push({ older: null, newer: { position: j + 1, step: other }, changed: [] });
      j += 1;
    }
  }
  return pairs;
}

/** `table[i][j]`: the most likeness that the steps from `i` and from `j` on can be paired with. */
function likenessTable(older: readonly Step[], newer: readonly Step[]): number[][] {
  const table = Array.from({ length: older.length + 1 }, () => new Array<number>(newer.length + 1).fill(0));
  const at = (i: number, j: number) => table[i]?.[j] ?? 0;
  for (const [i, one] of [...older.entries()].reverse()) {
    for (const [j, other] of [...newer.entries()].reverse()) {
      const together = likeness(one, other);
      const row = table[i];
      if (row === undefined) continue;
      row[j] = Math.max(at(i + 1, j), at(i, j + 1), together > 0 ? together + at(i + 1, j + 1) : 0);
    }
  }
  return table;
}

function likeness(one: Step, other: Step): number {
  if (one.kind !== other.kind) return 0;
  const alike = (field: keyof Step) => (same(one[field], other[field]) ? 1 : 0);
  return 1 + alike('title') + alike('contents') + alike('settings') + alike('electrical');
}

const changedFields = (one: Step, other: Step): (keyof Step)[] =>
  (Object.keys(one) as (keyof Step)[]).filter((field) => !same(one[field], other[field]));

/** Compared as written, with keys in one order: the database does not keep the order of keys. */
const same = (one: unknown, other: unknown): boolean => canonical(one) === canonical(other);
const canonical = (value: unknown): string =>
  JSON.stringify(value, (_key, inner: unknown) =>
    inner !== null && typeof inner === 'object' && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner,
  );
