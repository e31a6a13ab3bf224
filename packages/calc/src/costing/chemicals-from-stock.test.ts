import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chemicalsFromStock, type StockedChemicals } from './chemicals-from-stock.ts';

const given: StockedChemicals = {
  uses: [{ kg: 90, assayMassFraction: 0.9, pricePerKg: 2.7 }],
  areaM2: 300,
  dragOutLPerM2: 0.25,
  concentrationGPerL: 740,
  recoveryShare: 0.4,
};

describe('chemicals of a rate card from the stock', () => {
  it('price a square metre at what was really paid, whenever more was put in than dragged out', () => {
    // Mass balance and money by hand: consumption plus what drag-out takes is what was put in, and costs what it cost.
    const figure = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            kg: figure(1, 500),
            assayMassFraction: figure(0.05, 1),
            pricePerKg: figure(0.01, 80),
          }),
          { minLength: 1, maxLength: 5 },
        ),
        figure(1, 1e4),
        figure(0, 1),
        (uses, areaM2, recoveryShare) => {
          const rates = chemicalsFromStock({ ...given, uses, areaM2, recoveryShare, dragOutLPerM2: 1e-6 });
          const lost = rates.dragOutLPerM2 * rates.concentrationGPerL * (1 - recoveryShare);
          const perM2 = ((rates.consumptionGPerM2 + lost) / 1000) * rates.pricePerKg;
          const paid = uses.reduce((sum, { kg, pricePerKg }) => sum + kg * pricePerKg, 0);
          if (rates.consumptionGPerM2 > 0) expect((perM2 * areaM2) / paid).toBeCloseTo(1, 9);
        },
      ),
    );
  });

  it('leaves nothing for consumption where drag-out alone would take more', () => {
    expect(chemicalsFromStock({ ...given, dragOutLPerM2: 2 }).consumptionGPerM2).toBe(0);
  });

  it.each([
    [{ areaM2: 0 }, 'areaM2'],
    [{ recoveryShare: 1.1 }, 'recoveryShare'],
    [{ uses: [] }, 'uses'],
    [{ uses: [{ kg: 1, assayMassFraction: 0, pricePerKg: 1 }] }, 'uses.0.assayMassFraction'],
    [{ uses: [{ kg: 1, assayMassFraction: 1, pricePerKg: NaN }] }, 'uses.0.pricePerKg'],
    [{ dragOutLPerM2: -1 }, 'dragOutLPerM2'],
    [{ concentrationGPerL: Infinity }, 'concentrationGPerL'],
  ])('refuses %j', (wrong, argument) => {
    expect(() => chemicalsFromStock({ ...given, ...wrong })).toThrow(argument);
  });
});
