import { expect, test } from 'vitest';
import type { RouteStep } from './queries.ts';
import { stripFirst } from './strip-first.ts';

const step = (position: number, kind: string): RouteStep => ({
  ...{ position, kind, title: kind, instructions: '', contents: null, durationS: 60, dripS: 0 },
  ...{ settings: [], electrical: null, cautions: [], record: [] },
});
const kinds = (steps: readonly RouteStep[]) => steps.map(({ position, kind }) => `${position} ${kind}`);

test('rework coloured on top of a film: the film comes off first, and the recipe keeps its numbers', () => {
  const route = [step(1, 'clean'), step(2, 'colour'), step(3, 'dry')];
  expect(kinds(stripFirst(route, 'titanium'))).toEqual(['0 strip', '1 clean', '2 colour', '3 dry']);
});

test('a recipe that strips before it colours was stripped twice', () => {
  const route = [step(1, 'strip'), step(2, 'colour')];
  expect(stripFirst(route, 'titanium')).toEqual(route);
  // A strip after the film is no strip before it.
  expect(stripFirst([step(1, 'colour'), step(2, 'strip')], 'titanium')).toHaveLength(3);
});

test('a recipe that makes no film was stripped all the same', () => {
  const route = [step(1, 'clean'), step(2, 'oil')];
  expect(stripFirst(route, 'steel')).toEqual(route);
});

test.each([
  'titanium',
  'niobium',
  'tantalum',
  'zirconium',
  'steel',
  'stainless-steel',
  'aluminium',
  'copper',
])('the strip of %s defers to the safety data sheet', (metal) => {
  const [strip] = stripFirst([step(1, 'anodize')], metal);
  expect(strip?.cautions.join(' ')).toMatch(/safety data sheet/);
  expect(strip?.instructions).toMatch(/dimension|hydrogen/);
});
test('a fluoride strip without a word about fluoride', () => {
  expect(stripFirst([step(1, 'colour')], 'titanium')[0]?.cautions.join(' ')).toMatch(/calcium gluconate/);
  expect(stripFirst([step(1, 'colour')], 'aluminium')[0]?.cautions.join(' ')).not.toMatch(/gluconate/);
});
