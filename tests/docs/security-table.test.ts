import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';

const docs = path.resolve(import.meta.dirname, '../../docs');
const rows = readFileSync(path.join(docs, 'security.md'), 'utf8')
  .split('\n')
  .filter((line) => /^\| \d+ +\|/.test(line))
  .map((line) =>
    line
      .split('|')
      .slice(1, -1)
      .map((cell) => cell.trim()),
  );
const proofs = rows.flatMap(([number, , , , proof = '']) => {
  const named = [...proof.matchAll(/\[[^\]]+\]\(([^)]+\.test\.ts)\): “([^”]+)”/g)];
  return named.map(([, file = '', name = '']) => ({ number, file, name }));
});

it('a statement of the forty was missing, or had nothing that proves it', () => {
  expect(rows.map(([number]) => Number(number))).toEqual(Array.from({ length: 40 }, (_, index) => index + 1));
  for (const row of rows) {
    expect(row).toHaveLength(5);
    for (const cell of row) expect(cell, row[0]).not.toBe('');
  }
  expect(new Set(proofs.map(({ number }) => number)).size).toBe(40);
});

it.each(proofs)('statement $number named the test “$name”, which $file does not have', ({ file, name }) => {
  const source = readFileSync(path.resolve(docs, file), 'utf8');
  const quoted = [`'${name}'`, `"${name}"`, `\`${name}\``];
  expect(quoted.some((text) => source.includes(text))).toBe(true);
  expect(source).not.toMatch(/\b(test|it|describe)\.(skip|only|todo)\b/);
});
