import { describe, expect, it } from 'vitest';
import { t6 } from '../../../reference/bath/readings.ts';
import { concentrationFromHydrometer } from './hydrometer.ts';

describe('hydrometer', () => {
  it.each([
    { scale: 'SG60F', reading: 1.5, kgPerM3: 1498.56 },
    { scale: 'Baume', reading: 48, kgPerM3: (1000 * 0.99904 * 145) / 97 },
    { scale: 'Twaddell', reading: 100, kgPerM3: 1498.56 },
  ] as const)('$scale $reading is $kgPerM3 kg/m3 at 60 °F', ({ kgPerM3, ...reading }) => {
    const found = concentrationFromHydrometer({
      solute: 'KOH',
      sampleTemperatureC: 15.56,
      dissolved: [],
      ...reading,
    });
    expect(found.densityKgPerM3).toBeCloseTo(kgPerM3, 6);
  });

  it('says what the spread of the sources means: +-0.7 wt% for 50 wt% KOH', () => {
    const found = concentrationFromHydrometer({ ...t6, reading: 1.5123, sampleTemperatureC: 20 });
    expect(found.component.massFraction).toBeCloseTo(0.5, 4);
    expect(found.sourceBandMassFraction).toBeCloseTo(0.0067, 4);
  });

  it.each([
    { reading: 0.9, solute: 'KOH' },
    { reading: 1.85, solute: 'H2SO4' },
  ] as const)('refuses a reading of $reading for $solute', (input) => {
    expect(() => concentrationFromHydrometer({ ...t6, ...input })).toThrow('reading is');
  });
});
