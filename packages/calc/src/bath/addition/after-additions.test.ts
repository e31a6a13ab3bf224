import { describe, expect, it } from 'vitest';
import { a1, a3, planned } from '../../../reference/bath/requests.ts';
import { type BathMove, bathAfterAdditions } from './after-additions.ts';
import type { AdditionRequest } from './request.ts';

const movesOf = (request: AdditionRequest): BathMove[] =>
  planned(request).steps.flatMap(({ action, kg }): BathMove[] =>
    action === 'decant' || action === 'add-water'
      ? [{ action, kg }]
      : action === 'add-stock'
        ? [{ action, kg, massFraction: request.stock.massFraction }]
        : [],
  );

describe('a bath after what was done to it', () => {
  it.each([
    { name: 'raised with flake', request: a1 },
    { name: 'decanted first, then raised with acid', request: a3 },
    {
      name: 'cut for its carbonate',
      request: { ...a1, impurity: { gramsPerLitre: 60, targetGramsPerLitre: 25 } },
    },
  ] as const)('$name stands where the plan said', ({ request }) => {
    const after = bathAfterAdditions({ ...request, moves: movesOf(request) });
    const { bathAfter } = planned(request);
    expect(after.kg).toBeCloseTo(bathAfter.kg, 6);
    expect(after.volumeL).toBeCloseTo(bathAfter.volumeL, 6);
    expect(after.massFraction).toBeCloseTo(bathAfter.massFraction, 9);
    if (bathAfter.impurityGramsPerLitre !== null)
      expect(60 * after.dilution).toBeCloseTo(bathAfter.impurityGramsPerLitre, 6);
  });

  it('is made up in an empty tank, and holds nothing of what was not there', () => {
    const moves: BathMove[] = [
      { action: 'add-water', kg: 400 },
      { action: 'add-stock', kg: 25, massFraction: 1 },
    ];
    const made = bathAfterAdditions({ ...a1, volumeL: 0, massFraction: 0, moves });
    expect(made.massFraction).toBeCloseTo(25 / 425, 12);
    expect(made.dilution).toBe(0);
  });

  it('takes a chemical that is not its solute for weight alone', () => {
    const moves: BathMove[] = [{ action: 'add-stock', kg: 10 }];
    const { kg, massFraction } = bathAfterAdditions({ ...a1, moves });
    expect(kg * massFraction).toBeCloseTo(0.47 * (kg - 10), 9);
  });

  it('refuses to take out more than stands there', () => {
    const moves: BathMove[] = [{ action: 'decant', kg: 600 }];
    expect(() => bathAfterAdditions({ ...a1, moves })).toThrow('moves.0.kg is 600');
  });
});
