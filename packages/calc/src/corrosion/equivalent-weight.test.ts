import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { dissolvingMetals, type DissolvingMetal } from './data/equivalent-weights.ts';
import { equivalentWeight } from './equivalent-weight.ts';
import { corrosionRate } from './rate.ts';

describe('equivalent weights', () => {
  const rows = readCsv('corrosion/equivalent_weights.csv');
  const alloys: Record<string, { element: DissolvingMetal; massFraction: number; valence?: number }[]> = {
    'Fe / carbon steel': [{ element: 'Fe', massFraction: 1 }],
    '304 stainless (0.19 Cr n=3; 0.0925 Ni n=2; rest Fe n=2)': [
      { element: 'Cr', massFraction: 0.19 },
      { element: 'Ni', massFraction: 0.0925 },
      { element: 'Fe', massFraction: 0.7175 },
    ],
    '316 stainless (0.17 Cr n=3; 0.12 Ni n=2; 0.025 Mo n=3; rest Fe n=2)': [
      { element: 'Cr', massFraction: 0.17 },
      { element: 'Ni', massFraction: 0.12 },
      { element: 'Mo', massFraction: 0.025 },
      { element: 'Fe', massFraction: 0.685 },
    ],
  };

  it.each(rows)('ASTM G102 definition: $material is $EW, $mm_per_yr_per_uA_cm2 mm/year per uA/cm2', (row) => {
    const material = row['material'] ?? '';
    const pure = Object.keys(dissolvingMetals).find((element) => element === material) as
      DissolvingMetal | undefined;
    const valence = Number(row['valence']);
    const composition = alloys[material] ?? (pure ? [{ element: pure, massFraction: 1, valence }] : []);
    const found = equivalentWeight({ composition });
    expect(Math.abs(found - Number(row['EW']))).toBeLessThan(0.0011);
    const { mmPerYear } = corrosionRate({
      currentDensityUAPerCm2: 1,
      equivalentWeight: found,
      densityGPerCm3: Number(row['density_g_cm3']),
    });
    expect(Math.abs(mmPerYear - Number(row['mm_per_yr_per_uA_cm2']))).toBeLessThan(0.0000151);
  });

  it('the table holds the densities of the rows', () => {
    for (const row of rows) {
      const metal = Object.entries(dissolvingMetals).find(([element]) => element === row['material'])?.[1];
      if (metal) expect(metal.densityGPerCm3).toBe(Number(row['density_g_cm3']));
    }
  });

  it('refuses an alloy that is not whole, and unknown metals', () => {
    const part = [{ element: 'Fe' as const, massFraction: 0.5 }];
    expect(() => equivalentWeight({ composition: part })).toThrow('composition is');
    expect(() => equivalentWeight({ composition: [{ element: 'Xx' as 'Fe', massFraction: 1 }] })).toThrow(
      'element is Xx',
    );
  });
});
