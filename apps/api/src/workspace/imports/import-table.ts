import { createHash } from 'node:crypto';
import {
  importFields,
  type ImportBody,
  type ImportKind,
  type ImportPreview,
  type PageRef,
} from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { fieldError, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { kinds, type Entry } from './kinds.ts';
import * as queries from './queries.ts';
import { readTable, type Fault, type TableLine } from './table.ts';

const shown = { known: 200, sample: 50, faults: 200 };
const hashOf = (text: string) => createHash('sha256').update(text).digest();

interface Read {
  count: number;
  entries: (Entry & { row: TableLine })[];
  known: { line: number; name: string; page: PageRef }[];
  faults: Fault[];
}

/** Reads a table against the record: every cell, and what is there already or twice in the file. */
async function read(tx: Tx, kind: ImportKind, body: ImportBody): Promise<Read> {
  const table = readTable(kind, body);
  const { record, known, entryOf } = await kinds[kind](tx);
  const onRecord = new Map(known.map((one) => [one.one, one]));
  const unreadable = new Set(table.faults.map(({ line }) => line));
  const found: Read = { count: table.count, entries: [], known: [], faults: [...table.faults] };
  const lineOf = new Map<string, number>();
  for (const row of table.lines) {
    const { line } = row;
    if (unreadable.has(line)) continue;
    const entry = entryOf(row);
    if (Array.isArray(entry)) {
      found.faults.push(
        ...entry.map(({ field, message }) => ({ line, column: table.columnOf(field), message })),
      );
      continue;
    }
    const column = table.columnOf(importFields[kind].find(({ required }) => required)?.key ?? '');
    const earlier = lineOf.get(entry.one);
    if (earlier !== undefined) {
      found.faults.push({ line, column, message: `${entry.name} stands in line ${earlier} already` });
      continue;
    }
    lineOf.set(entry.one, line);
    const there = onRecord.get(entry.one);
    if (there === undefined) found.entries.push({ ...entry, row });
    else {
      found.known.push({ line, name: there.name, page: { kind: record, id: there.id } });
      if (!body.leaveOutKnown)
        found.faults.push({ line, column, message: `${there.name} is on record already` });
    }
  }
  found.faults.sort((a, b) => a.line - b.line);
  return found;
}

/** What a table would bring, without storing anything. */
export async function previewTable(
  tx: Tx,
  { kind, body }: { kind: ImportKind; body: ImportBody },
): Promise<ImportPreview> {
  const { count, entries, known, faults } = await read(tx, kind, body);
  const before = await queries.readImport(tx.execute, { kind, sha256: hashOf(body.text) });
  return {
    lines: count,
    records: entries.length,
    known: known.slice(0, shown.known),
    knownCount: known.length,
    sample: entries
      .slice(0, shown.sample)
      .map(({ name, row }) => ({ line: row.line, name, cells: row.text })),
    faults: faults.slice(0, shown.faults),
    faultCount: faults.length,
    sameFile: before && { ...before, at: before.at.toISOString() },
  };
}

/** Stores a table, all of it or nothing, each line by the command that a person would use. */
export const importTable = (
  db: Db,
  { actor, kind, body }: { actor: Actor; kind: ImportKind; body: ImportBody },
): Promise<{ records: number; leftOut: number }> =>
  inTransaction(db, async (tx) => {
    await queries.lockImports(tx.execute, kind);
    const sha256 = hashOf(body.text);
    const before = await queries.readImport(tx.execute, { kind, sha256 });
    if (before !== null)
      throw fieldError(
        'text',
        `this very file was imported on ${before.at.toISOString().slice(0, 10)} by ${before.by}; nothing was stored`,
      );
    const { entries, known, faults } = await read(tx, kind, body);
    const [first] = faults;
    if (first !== undefined)
      throw fieldError(
        'text',
        `line ${first.line}, ${first.column}: ${first.message}. ${faults.length} faults in all; nothing was stored`,
      );
    if (entries.length === 0) throw fieldError('text', 'holds nothing that is not on record already');
    for (const { add, row } of entries) {
      try {
        await add(tx, actor);
      } catch (error) {
        if (!(error instanceof DomainError)) throw error;
        throw fieldError('text', `line ${row.line}: ${error.message} Nothing was stored`);
      }
    }
    await queries.addImport(tx, {
      ...{ kind, personId: actor.personId, records: entries.length },
      sha256: Uint8Array.from(sha256),
    });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'shop', id: 1 },
      action: `imported ${entries.length} ${kind} from a table`,
    });
    return { records: entries.length, leftOut: known.length };
  });

/** The heads of a table to fill in, each figure with its unit. */
export const templateHeads = (kind: ImportKind, unitOf: (measure: string) => string): string[] =>
  importFields[kind].map(({ label, measure }) =>
    measure === null ? label : `${label} (${unitOf(measure)})`,
  );
