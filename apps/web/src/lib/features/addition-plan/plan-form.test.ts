import type { AdditionSheet, ChemicalLot } from '@huelot/contracts';
import { expect, it } from 'vitest';
import { impurityToCut, lotsFor } from './plan-form.ts';
import { safetySheets } from '../additions/lot-choice.ts';

/** Only what is read here. */
const sheetWith = (found: number, aimGramsPerLitre: number) =>
  ({
    setup: { impurity: { component: 'Al', aimGramsPerLitre } },
    latest: [{ component: 'Al', unit: 'gramsPerLitre', value: found }],
    expected: null,
  }) as unknown as AdditionSheet;

it('aluminium was to be brought down from 6.40 to 9.00 g/L', () => {
  expect(impurityToCut(sheetWith(6.4, 9))).toBeNull();
  expect(impurityToCut(sheetWith(9, 9))).toBeNull();
  expect(impurityToCut(sheetWith(11.2, 9))).toEqual({ gramsPerLitre: 11.2, targetGramsPerLitre: 9 });
});

const lot = (id: number, overrides: Partial<ChemicalLot>) =>
  ({ id, solute: 'KOH', status: 'open', balanceKg: 10, expired: false, ...overrides }) as ChemicalLot;

it('a lot past its date stood on top because it expires first', () => {
  const lots = [lot(1, { expired: true }), lot(2, {}), lot(3, { solute: 'H2SO4' })];
  expect(lotsFor(lots, 'KOH').map(({ id }) => id)).toEqual([2, 1]);
});

it('no safety data sheet was within reach while something is planned or added', () => {
  const lots = [
    lot(1, { sdsFileId: 7, chemicalName: 'Flake' }),
    lot(2, { sdsFileId: 7, chemicalName: 'Flake' }),
    lot(3, { sdsFileId: null }),
    lot(4, { sdsFileId: 8, chemicalName: 'Acid' }),
  ];
  expect(safetySheets(lots, [1, 2, 3, null])).toEqual([{ fileId: 7, name: 'Flake' }]);
});
