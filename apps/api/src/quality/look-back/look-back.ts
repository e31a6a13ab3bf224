import { LookBackKind, type exportLookBack, type TouchedLot } from '@huelot/contracts';
import type { z } from 'zod';
import type { Db, Queryable } from '../../db/client.ts';
import type { Cell } from '../../http/csv.ts';
import { idFromCursor, toPage } from '../../kernel/cursor.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readName, readNames, readTotals, readTouched } from './queries.ts';

type Asked = z.output<typeof exportLookBack.query>;

/** `chemical-lot-12` as kind and key. */
function subjectOf(about: string) {
  const dash = about.lastIndexOf('-');
  return { kind: LookBackKind.parse(about.slice(0, dash)), id: Number(about.slice(dash + 1)) };
}

/** A page of the lots that a record touched, with what binds each, and how many they all are. */
export async function look(
  db: Db,
  { about, after, limit = 50, ...days }: Asked & { after?: string | undefined; limit?: number | undefined },
) {
  const subject = subjectOf(about);
  const name = orNotFound(await readName(db.execute, subject), about);
  const asked = { ...subject, ...days };
  const totals = await readTotals(db.execute, asked);
  const rows = await readTouched(db.execute, { ...asked, after: idFromCursor(after), limit });
  return { ...toPage({ rows, limit, cursorOf: (row) => [row.id] }), subject: name, totals };
}

/** Every lot that a record touched, at most `most`; one more says that there are more. */
export async function lookAtAll(
  db: Queryable,
  { about, most, ...days }: Asked & { most: number },
): Promise<{ subject: string; lots: TouchedLot[] }> {
  const subject = subjectOf(about);
  return {
    subject: orNotFound(await readName(db.execute, subject), about),
    lots: await readTouched(db.execute, { ...subject, ...days, after: null, limit: most }),
  };
}

export async function choicesOf(db: Db, kind: LookBackKind) {
  const names = await readNames(db.execute, kind);
  return { items: names.map(({ id, label }) => ({ subject: `${kind}-${id}`, label })) };
}

export const heads = [
  ...['lot', 'customer', 'part', 'state', 'held', 'pieces', 'shipped', 'certificates'],
  ...['bound by', 'what', 'at (UTC)'],
];
/** The lines of a lot in a table, one for each tie. */
export const linesOf = (lot: TouchedLot): Cell[][] =>
  lot.ties.map((tie) => [
    ...[lot.number, lot.customer.name, lot.part, lot.status, lot.held, lot.quantity, lot.shippedCount],
    lot.certificates.map(({ number }) => number).join(' '),
    ...[tie.kind, tie.label, tie.at],
  ]);
