import type { ChemicalLot } from '@huelot/contracts';
import { expect, it } from 'vitest';
import { rankedLots, stopSentences } from './lot-choice.ts';

const lot = (id: number, overrides: Partial<ChemicalLot>): ChemicalLot => ({
  id,
  chemicalId: id,
  chemicalCode: `C-${id}`,
  chemicalName: 'Flake',
  solute: 'KOH',
  hazards: ['corrosive'],
  sdsFileId: null,
  form: 'solid',
  supplierLot: `L${id}`,
  receivedAt: '2026-01-05T08:00:00.000Z',
  receivedBy: 'Lena',
  receivedKg: 100,
  assayMassFraction: 0.9,
  impurityMassFraction: 0,
  densityKgPerM3: null,
  expiresOn: null,
  expired: false,
  status: 'open',
  balanceKg: 100,
  notes: '',
  pricePerKg: null,
  version: 1,
  ...overrides,
});
const acid = lot(1, { solute: 'H2SO4', chemicalName: 'Sulfuric acid' });
const phosphate = lot(2, { solute: 'Na3PO4' });
const old = lot(3, { chemicalId: 4, expired: true });
const flake = lot(4, {});
const caustic = { contents: 'hot-caustic', solute: 'KOH', planned: [4] } as const;

it('sulfuric acid led the list of lots for a caustic addition', () => {
  const ranked = rankedLots([acid, phosphate, old, flake], caustic);
  expect(ranked.map(({ lot: { id } }) => id)).toEqual([4, 3, 2, 1]);
  expect(ranked[1]?.marks).toContain('PAST ITS DATE');
  expect(ranked[2]?.marks).toContain('not the planned chemical');
  expect(ranked[3]?.marks).toContain('DOES NOT BELONG IN THIS BATH');
});

it('says what happens when it goes in all the same', () => {
  expect(stopSentences(acid, caustic)).toEqual([
    'C-1 Sulfuric acid: acid into an alkaline bath: it boils and spatters where they meet',
    'C-1 Sulfuric acid: not the planned chemical',
  ]);
  expect(stopSentences(flake, caustic)).toEqual([]);
});
