import { expect, it } from 'vitest';
import { differences, valueAt } from './path.ts';

it('follows a path into lists and objects', () => {
  expect(valueAt({ lines: [{ quantity: 4 }] }, 'lines.0.quantity')).toBe(4);
  expect(valueAt({ lines: [] }, 'lines.0.quantity')).toBeUndefined();
  expect(valueAt({}, 'constructor')).toBeUndefined();
});

it('names the leaves that differ', () => {
  expect(differences({ a: 1, b: { c: 'x', d: null } }, { a: 1, b: { c: 'y', d: null } })).toEqual([
    { path: 'b.c', mine: 'x', theirs: 'y' },
  ]);
});

it('takes a list of another length as one difference', () => {
  expect(differences({ roles: ['lab'] }, { roles: ['lab', 'owner'] })).toEqual([
    { path: 'roles', mine: ['lab'], theirs: ['lab', 'owner'] },
  ]);
});
