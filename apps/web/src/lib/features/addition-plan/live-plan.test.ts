import type { ChemicalLot } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { kgPerLitre } from '../additions/kg-per-litre.ts';
import { livePlan } from './live-plan.ts';
import type { TypedLevel, TypedStrength } from './plan-form.ts';

const lot = (changed: Partial<ChemicalLot>): ChemicalLot => ({
  id: 7,
  chemicalId: 1,
  chemicalCode: 'KOH-90',
  chemicalName: 'Caustic potash flake',
  solute: 'KOH',
  hazards: ['corrosive'],
  sdsFileId: null,
  form: 'solid',
  supplierLot: '4711',
  receivedAt: '2026-01-01T08:00:00Z',
  receivedBy: 'Lena',
  receivedKg: 500,
  assayMassFraction: 0.9,
  impurityMassFraction: 0,
  densityKgPerM3: null,
  expiresOn: null,
  expired: false,
  pricePerKg: null,
  status: 'open',
  balanceKg: 400,
  notes: '',
  version: 1,
  ...changed,
});
const raise: TypedStrength = {
  type: 'strength',
  solute: 'KOH',
  volumeL: 400,
  fullVolumeL: 400,
  freeboardL: 30,
  temperatureC: 60,
  massFraction: 0.47,
  targetMassFraction: 0.5,
  targetGramsPerLitre: null,
  referenceTemperatureC: null,
  chemicalLotId: 7,
  fillToMark: true,
  impurity: null,
  coldestTemperatureC: null,
  uncertainty: { massFraction: 0.001, volumeL: 1 },
};
const stockKg = (live: ReturnType<typeof livePlan>) =>
  live.state === 'known'
    ? live.steps.filter(({ action }) => action === 'add-stock').reduce((sum, { kg }) => sum + kg, 0)
    : NaN;

// Worked examples of mass balance, reckoned by hand from densities of the solutions.
describe('a plan while it is typed', () => {
  it('raises 400 L of 47 wt% KOH at 60 °C to 50 wt% with 43.5 kg of 90 % flake', () => {
    expect(stockKg(livePlan(raise, lot({})))).toBeCloseTo(43.5, 1);
  });

  it('makes room first: 160 to 180 g/L in 1000 L of acid takes 9.39 L out and 22.40 kg in', () => {
    const live = livePlan(
      {
        ...raise,
        solute: 'H2SO4',
        volumeL: 1000,
        fullVolumeL: 1000,
        freeboardL: 0,
        temperatureC: 20,
        massFraction: 0.14549,
        targetMassFraction: null,
        targetGramsPerLitre: 180,
        referenceTemperatureC: 20,
      },
      lot({ solute: 'H2SO4', form: 'liquid', assayMassFraction: 0.96, densityKgPerM3: 1835.5 }),
    );
    const [first] = live.state === 'known' ? live.steps : [];
    expect(first).toMatchObject({ action: 'decant' });
    expect(first?.volumeL).toBeCloseTo(9.39, 1);
    expect(stockKg(live)).toBeCloseTo(22.4, 1);
  });

  it('says in words why a stock that is too weak is no stock', () => {
    const live = livePlan(raise, lot({ form: 'liquid', assayMassFraction: 0.45 }));
    expect(live).toMatchObject({ state: 'refused' });
    expect(live.state === 'refused' && live.words).toMatch(/not stronger than the target/);
  });

  it('waits for what is not typed yet', () => {
    expect(livePlan({ ...raise, volumeL: null }, lot({}))).toEqual({ state: 'incomplete' });
  });

  it('restores 15.92 kg of water to 500 L of 50 wt% KOH that stand at 485 L', () => {
    const level: TypedLevel = {
      type: 'level',
      solute: 'KOH',
      volumeL: 485,
      fullVolumeL: 500,
      temperatureC: 60,
      massFractionWhenFull: 0.5,
    };
    const live = livePlan(level, undefined);
    const [water] = live.state === 'known' ? live.steps : [];
    expect(water?.kg).toBeCloseTo(15.92, 2);
  });
});

describe('kilograms in a litre', () => {
  it('are those of the planned decant, of water, of the label', () => {
    expect(kgPerLitre({ action: 'decant', step: { kg: 22, volumeL: 20 } })).toBe(1.1);
    expect(kgPerLitre({ action: 'add-water' })).toBeCloseTo(0.998, 3);
    const acid = lot({ solute: 'H2SO4', form: 'liquid', densityKgPerM3: 1835.5 });
    expect(kgPerLitre({ action: 'add-stock', lot: acid })).toBe(1.8355);
  });

  it('are none for a solid, and not guessed for an unknown liquid', () => {
    expect(kgPerLitre({ action: 'add-stock', lot: lot({}) })).toBeNull();
    expect(kgPerLitre({ action: 'decant', bath: null })).toBeNull();
  });
});
