import { AsyncResource } from 'node:async_hooks';
import { Readable } from 'node:stream';
import type { FastifyReply } from 'fastify';
import { byteOrderMark, csvLine, type Cell } from './csv.ts';

/** How much of a list is read at a time. */
export const CSV_PAGE = 500;

interface Page<Row> {
  items: readonly Row[];
  next: string | null;
}

/**
 * A whole list as a file to save, sent while it is read, a page at a time; it ends when whoever asked has gone. A failure in
 * the middle breaks the transfer off, so that no part of a list looks like all of it.
 *
 * @example
 * return streamCsv(reply, { name: 'lots', heads: ['number'], read: (after) => page(after), linesOf: (lot) => [[lot.number]] });
 */
export function streamCsv<Row>(
  reply: FastifyReply,
  {
    name,
    heads,
    read,
    linesOf,
  }: {
    name: string;
    heads: readonly string[];
    /** A page of the list, the one after a cursor or the first. */
    read: (after: string | undefined) => Promise<Page<Row>>;
    /** The lines of one record. */
    linesOf: (row: Row) => readonly (readonly Cell[])[];
  },
): Readable {
  reply.type('text/csv; charset=utf-8').header('content-disposition', `attachment; filename="${name}.csv"`);
  // The pages are read after the handler has answered, and still as the search that it is.
  return Readable.from(lines({ heads, read: AsyncResource.bind(read), linesOf }));
}

async function* lines<Row>({
  heads,
  read,
  linesOf,
}: {
  heads: readonly string[];
  read: (after: string | undefined) => Promise<Page<Row>>;
  linesOf: (row: Row) => readonly (readonly Cell[])[];
}): AsyncGenerator<string> {
  yield byteOrderMark + csvLine(heads);
  let after: string | undefined;
  do {
    const { items, next } = await read(after);
    yield items.flatMap(linesOf).map(csvLine).join('');
    after = next ?? undefined;
  } while (after !== undefined);
}
