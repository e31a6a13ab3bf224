import Fastify from 'fastify';
import { expect, test } from 'vitest';
import { csvFile, csvLimit } from './csv.ts';
import { streamCsv } from './stream-csv.ts';

const app = Fastify();
app.get('/cut', (_request, reply) =>
  csvFile(reply, { name: 'x', heads: ['n'], rows: Array.from({ length: csvLimit + 1 }, (_, n) => [n]) }),
);
const pages = [
  { items: [1, 2], next: 'a' },
  { items: [3], next: null },
];
app.get('/streamed', (_request, reply) =>
  streamCsv(reply, {
    ...{ name: 'x', heads: ['n'], linesOf: (n: number) => [[n]] },
    read: (after) => Promise.resolve(pages[after === undefined ? 0 : 1] ?? { items: [], next: null }),
  }),
);
app.get('/broken', (_request, reply) =>
  streamCsv(reply, {
    ...{ name: 'x', heads: ['n'], linesOf: (n: number) => [[n]] },
    read: (after) =>
      after === undefined ? Promise.resolve({ items: [1], next: 'a' }) : Promise.reject(new Error('gone')),
  }),
);

test('a table ended after a hundred thousand records and did not say so', async () => {
  const { body } = await app.inject('/cut');
  const lines = body.trimEnd().split('\r\n');
  expect(lines).toHaveLength(csvLimit + 2);
  expect(lines.at(-2)).toBe(String(csvLimit - 1));
  expect(lines.at(-1)).toBe(`Cut off here after ${csvLimit} records. Narrow the list to save the others.`);
});

test('a streamed table is whole, page after page', async () => {
  const { body, headers } = await app.inject('/streamed');
  expect(body).toBe('\uFEFFn\r\n1\r\n2\r\n3\r\n');
  expect(headers['content-disposition']).toBe('attachment; filename="x.csv"');
});

test('a streamed table that fails is broken off, not ended', async () => {
  const answer = await fetch(`${await app.listen({ port: 0, host: '127.0.0.1' })}/broken`);
  await expect(answer.text()).rejects.toThrow();
  await app.close();
});
