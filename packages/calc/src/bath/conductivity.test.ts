import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { conductivity } from './conductivity.ts';
import { molarityFrom } from './concentration.ts';
import type { Solute } from './solutes.ts';

const grid = readCsv('bath/conductivity_koh.csv').map((row) => ({
  massFraction: Number(row['wt_pct']) / 100,
  temperatureC: Number(row['temp_C']),
  molPerLitre: Number(row['molarity']),
  siemensPerM: 100 * Number(row['sigma_S_per_cm']),
  inRange: row['status'] === 'in range',
}));

/** Half of the last printed digit of S/cm, with what the printed density adds. */
const printed = 0.02;

describe('conductivity of potassium hydroxide', () => {
  it.each(grid.filter((row) => row.inRange))(
    'Gilliam 2007: $massFraction at $temperatureC °C is $siemensPerM S/m',
    (row) => {
      const found = conductivity({ solute: 'KOH', ...row });
      expect(Math.abs(found.siemensPerM - row.siemensPerM)).toBeLessThan(printed);
      expect(found.relativeUncertainty).toBe(0.08);
      expect(found.flags).toEqual([]);
    },
  );

  it.each(grid.filter((row) => !row.inRange && row.temperatureC >= 50))(
    'past 12 mol/L and hot, the fit stands with a flag: $massFraction at $temperatureC °C',
    (row) => {
      const found = conductivity({ solute: 'KOH', ...row });
      expect(Math.abs(found.siemensPerM - row.siemensPerM)).toBeLessThan(printed);
      expect(found.relativeUncertainty).toBe(0.15);
      expect(found.flags.join()).toContain('past the 12 mol/L');
    },
  );

  it.each(grid.filter((row) => !row.inRange && row.temperatureC < 50))(
    'past 12 mol/L and cool, its value at 12 mol/L stands: $massFraction at $temperatureC °C',
    ({ temperatureC, massFraction }) => {
      const found = conductivity({ solute: 'KOH', massFraction, temperatureC });
      let [low, high] = [0.4, 0.5];
      while (high - low > 1e-9) {
        const middle = (low + high) / 2;
        const { molPerLitre } = molarityFrom({ solute: 'KOH', massFraction: middle, temperatureC });
        if (molPerLitre < 12) low = middle;
        else high = middle;
      }
      const atEnd = conductivity({ solute: 'KOH', massFraction: low, temperatureC });
      expect(found.siemensPerM).toBeCloseTo(atEnd.siemensPerM, 4);
      expect(found.relativeUncertainty).toBeNull();
      expect(found.flags.join()).toContain('upper bound');
    },
  );

  it('covers the whole grid', () => {
    expect(grid).toHaveLength(100);
    expect(grid.filter((row) => !row.inRange)).toHaveLength(10);
  });

  it.each([
    // The old series at 15 °C (from memory) against the fit, with the deviation known for it.
    { wtPercent: 4.2, millisiemensPerCm: 146.4, deviation: 2.7 },
    { wtPercent: 21, millisiemensPerCm: 510.6, deviation: -2.3 },
    { wtPercent: 29.4, millisiemensPerCm: 543.4, deviation: -6.8 },
    { wtPercent: 33.6, millisiemensPerCm: 522.1, deviation: -8.5 },
    { wtPercent: 37.8, millisiemensPerCm: 479, deviation: -8.5 },
    { wtPercent: 42, millisiemensPerCm: 421.2, deviation: -4.7 },
  ])('reads $deviation % against an older series at $wtPercent wt%, 15 °C', (row) => {
    const { siemensPerM } = conductivity({
      solute: 'KOH',
      massFraction: row.wtPercent / 100,
      temperatureC: 15,
    });
    const deviation = 100 * (siemensPerM / (row.millisiemensPerCm / 10) - 1);
    // "8.5 % at 34 to 38 wt%" is stated for the pair.
    expect(Math.abs(deviation - row.deviation)).toBeLessThan(0.3);
  });

  it.each([
    { temperatureC: 20, molPerLitre: 5.9, siemensPerCm: 0.57 },
    { temperatureC: 25, molPerLitre: 6.1, siemensPerCm: 0.63 },
    { temperatureC: 60, molPerLitre: 7.2, siemensPerCm: 1.09 },
    { temperatureC: 80, molPerLitre: 7.6, siemensPerCm: 1.39 },
  ])('peaks at $molPerLitre mol/L, $siemensPerCm S/cm, at $temperatureC °C', (row) => {
    const points = Array.from({ length: 400 }, (_, i) => {
      const point = { solute: 'KOH' as const, massFraction: (i + 1) / 1000, temperatureC: row.temperatureC };
      return { ...molarityFrom(point), ...conductivity(point) };
    });
    const peak = points.reduce((best, point) => (point.siemensPerM > best.siemensPerM ? point : best));
    expect(Math.abs(peak.molPerLitre - row.molPerLitre)).toBeLessThan(0.06);
    expect(Math.abs(peak.siemensPerM / 100 - row.siemensPerCm)).toBeLessThan(0.006);
  });

  it('refuses what no source covers, and flags temperatures beyond the fit', () => {
    expect(() => conductivity({ solute: 'KOH', massFraction: 0.55, temperatureC: 60 })).toThrow('13.6 mol/L');
    expect(conductivity({ solute: 'KOH', massFraction: 0.3, temperatureC: 105 }).flags.join()).toContain(
      '0 to 100 °C',
    );
  });

  it('bubbles take their share: (1 - 0.1)^1.5', () => {
    const clear = conductivity({ solute: 'KOH', massFraction: 0.3, temperatureC: 60 }).siemensPerM;
    const gassy = conductivity({
      solute: 'KOH',
      massFraction: 0.3,
      temperatureC: 60,
      gasFraction: 0.1,
    }).siemensPerM;
    expect(gassy / clear).toBeCloseTo(0.9 ** 1.5, 12);
  });
});

const others = readCsv('bath/conductivity_other.csv').map((row) => ({
  solute: row['solute'] as Solute,
  massFraction: Number(row['wt_pct']) / 100,
  temperatureC: Number(row['temp_C']),
  siemensPerM: Number(row['sigma_mS_per_cm']) / 10,
  source: row['source'] ?? '',
}));

describe('conductivity of the other electrolytes', () => {
  const tables = others.filter(
    ({ solute, temperatureC, massFraction }) =>
      solute === 'NH4_2SO4' ||
      solute === 'H3PO4' ||
      solute === 'Na3PO4' ||
      // At 5 wt% the two sodium hydroxide series meet; the one at 18 °C stands.
      (solute === 'NaOH' && (temperatureC === 18 || massFraction < 0.05)),
  );
  it.each(tables)('$source: $solute $massFraction at $temperatureC °C is $siemensPerM S/m', (row) => {
    const found = conductivity(row);
    expect(found.siemensPerM).toBeCloseTo(row.siemensPerM, 6);
    expect(found.flags.some((flag) => flag.includes('from memory'))).toBe(row.solute !== 'NH4_2SO4');
  });

  it('the two sodium hydroxide series agree within 1 % where they meet', () => {
    const found = conductivity({ solute: 'NaOH', massFraction: 0.05, temperatureC: 20 });
    expect(Math.abs(found.siemensPerM / 20.6 - 1)).toBeLessThan(0.01);
  });

  it.each(others.filter(({ source }) => source.startsWith('GU1997')))(
    '$source: sulfuric acid $massFraction at 25 °C is $siemensPerM S/m',
    (row) => {
      // Four printed digits of the strength and three of the value.
      expect(Math.abs(conductivity(row).siemensPerM / row.siemensPerM - 1)).toBeLessThan(0.002);
    },
  );

  it('the anodizing bath at 20 °C lies at 65 +-6 S/m', () => {
    const { siemensPerM, flags } = conductivity({ solute: 'H2SO4', massFraction: 0.1619, temperatureC: 20 });
    expect(Math.abs(siemensPerM - 65)).toBeLessThan(6);
    expect(flags.join()).toContain('rule of thumb');
  });

  it('flags what its source does not cover', () => {
    const beyond = conductivity({ solute: 'NH4_2SO4', massFraction: 0.3, temperatureC: 20 });
    expect(beyond.siemensPerM).toBeCloseTo(21.5, 6);
    expect(beyond.flags.join()).toContain('ends at 25 wt%');
    const hot = conductivity({ solute: 'NH4_2SO4', massFraction: 0.1, temperatureC: 60 });
    expect(hot.siemensPerM).toBeCloseTo(10.5 * 1.4, 6);
    expect(hot.flags.join()).toContain('no further than 20 K');
    const weak = conductivity({ solute: 'H2SO4', massFraction: 0.05, temperatureC: 25 });
    expect(weak.flags.join()).toContain('1 to 6 mol/L');
  });

  it.each(['K2CO3', 'Na2CO3'] as const)('knows nothing of %s and says so', (solute) => {
    expect(() => conductivity({ solute, massFraction: 0.1, temperatureC: 20 })).toThrow('solute is');
  });
});
