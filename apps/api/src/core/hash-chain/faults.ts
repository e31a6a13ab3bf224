import { chained } from './chained.ts';

/** What is wrong at one place. */
export type FaultKind = 'changed' | 'deleted' | 'inserted' | 'swapped' | 'file' | 'chain' | 'seal';

/** One place at which the record is not what was chained. */
export interface Fault {
  /** The position in the chain; null for what has no entry. */
  position: number | null;
  kind: FaultKind;
  /** The table, or `chain`. */
  table: string;
  recordId: string | null;
  /** The whole of it in a sentence. */
  words: string;
}

/** How many faults are named; the rest is counted. */
export const MAX_FAULTS = 50;

/** Collects faults; the first broken place is that with the lowest position. */
export function openFaults() {
  const named: Fault[] = [];
  let count = 0;
  return {
    add: (fault: Fault) => {
      count += 1;
      if (named.length < MAX_FAULTS) named.push(fault);
    },
    count: () => count,
    inOrder: () => [...named].sort((a, b) => (a.position ?? Infinity) - (b.position ?? Infinity)),
  };
}

/** `signature of a step 812 (L-00042)`: as it is called, its key in the table, and how people know it. */
export function nameRecord(options: {
  table: string;
  part: string;
  recordId: string;
  label: string | null;
}): string {
  const name =
    chained.find(({ table, part }) => table === options.table && part === options.part)?.name ??
    options.table;
  return `${name} ${options.recordId}${options.label === null || options.label === '' ? '' : ` (${options.label})`}`;
}

/** The place of an entry, for whoever has to look. */
export const placeOf = ({
  table,
  position,
  linkedAt,
}: {
  table: string;
  position: number;
  linkedAt: Date;
}): string => `table ${table}, entry ${position} of the chain, made ${linkedAt.toISOString()}`;
