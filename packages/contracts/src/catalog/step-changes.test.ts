import { describe, expect, it } from 'vitest';
import { pairSteps } from './step-changes.ts';
import type { Step } from './steps.ts';

const step = (kind: Step['kind'], title: string, extra: Partial<Step> = {}): Step => ({
  kind,
  title,
  instructions: '',
  contents: null,
  durationS: 60,
  dripS: 0,
  settings: [],
  electrical: null,
  cautions: [],
  record: [],
  ...extra,
});
const clean = step('clean', 'Clean');
const rinse = step('rinse', 'Rinse');
const colour = step('colour', 'Colour');
const positions = (pairs: ReturnType<typeof pairSteps>) =>
  pairs.map(({ older, newer }) => [older?.position ?? null, newer?.position ?? null]);

describe('pairSteps', () => {
  it('puts a step that came in between into a row of its own', () => {
    const pairs = pairSteps([clean, colour], [clean, rinse, colour]);
    expect(positions(pairs)).toEqual([
      [1, 1],
      [null, 2],
      [2, 3],
    ]);
    expect(pairs.flatMap(({ changed }) => changed)).toEqual([]);
  });

  it('keeps the row of a step that was taken out', () => {
    expect(positions(pairSteps([clean, rinse, colour], [clean, colour]))).toEqual([
      [1, 1],
      [2, null],
      [3, 2],
    ]);
  });

  it('names the fields of a step that differ, whatever the order of keys', () => {
    const setting = { quantity: 'voltageV', target: 28, low: 27, high: 29 } as const;
    const older = step('colour', 'Colour', { settings: [setting] });
    const sameAgain = step('colour', 'Colour', {
      settings: [{ high: 29, low: 27, target: 28, quantity: 'voltageV' }],
    });
    const newer = step('colour', 'Colour', { durationS: 90, settings: [{ ...setting, target: 28.5 }] });
    expect(pairSteps([older], [sameAgain])[0]?.changed).toEqual([]);
    expect(pairSteps([older], [newer])[0]?.changed).toEqual(['durationS', 'settings']);
  });

  it('pairs the rinse that stayed, not the first one of its kind', () => {
    const hot = step('rinse', 'Hot rinse', { contents: 'hot-rinse' });
    expect(positions(pairSteps([rinse, hot], [hot]))).toEqual([
      [1, null],
      [2, 1],
    ]);
  });

  it('never pairs steps of different kinds, and copes with nothing', () => {
    expect(positions(pairSteps([clean], [colour]))).toEqual(
      expect.arrayContaining([
        [1, null],
        [null, 1],
      ]),
    );
    expect(pairSteps([], [])).toEqual([]);
    expect(positions(pairSteps([], [clean]))).toEqual([[null, 1]]);
  });
});
