import { readFileSync } from 'node:fs';
import path from 'node:path';
import * as contracts from '@huelot/contracts';
import { expect, it } from 'vitest';

const file = path.resolve(import.meta.dirname, '../../docs/quality-requirements.md');
const text = readFileSync(file, 'utf8');
const rows = text
  .split('\n')
  .filter((line) => /^\| \d+ +\|/.test(line))
  .map((line) => {
    const cells = line.split('|').slice(1, -1);
    const [number, about, asked, source, state, operations, missing] = cells.map((cell) => cell.trim());
    return { number: Number(number), about, asked, source, state, operations, missing };
  });
const none = '–';

it('a requirement of the seventy-two was left out', () => {
  expect(rows.map(({ number }) => number)).toEqual(Array.from({ length: 72 }, (_, index) => index + 1));
  for (const row of rows) for (const cell of [row.about, row.asked, row.source]) expect(cell).toBeTruthy();
});

it('one was called met without anything that meets it, or its absence had no reason', () => {
  for (const { number, state, operations, missing } of rows) {
    const has = { operations: operations !== none, missing: missing !== none };
    const meant = { met: [true, false], partly: [true, true], 'not yet': [false, true] }[state ?? ''];
    expect([has.operations, has.missing], `${number}, ${state}`).toEqual(meant);
  }
});

it('the sums above the table were those of last month', () => {
  const count = (state: string) => rows.filter((row) => row.state === state).length;
  const sums = `${count('met')} are met, ${count('partly')} partly, ${count('not yet')} not yet.`;
  expect(text).toContain(sums);
});

it('an operation was named that the service does not have', () => {
  for (const { number, operations = '' } of rows) {
    for (const [, name = ''] of operations.matchAll(/`([^`]+)`/g))
      expect(Reflect.get(contracts, name), `${number}: ${name}`).toHaveProperty('method');
  }
});
