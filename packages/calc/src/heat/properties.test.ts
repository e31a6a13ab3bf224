import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { workedExamples } from '../../reference/worked-examples.ts';
import { type Caustic, type Solute, solutes } from '../bath/solutes.ts';
import { boilingPoint } from './boiling-point.ts';
import { specificHeat } from './data/materials.ts';
import { heatCapacity } from './heat-capacity.ts';
import { heatUp } from './heat-up.ts';
import { vapourPressureKPa, waterActivity } from './water-activity.ts';

const capacities = readCsv('heat/heat_capacity.csv').map((row) => ({
  solute: row['solute'] ?? '',
  massFraction: Number(row['wt_pct']) / 100,
  temperatureC: Number(row['temp_C']),
  jPerKgK: Number(row['cp_J_per_kgK']),
  source: row['source'] ?? '',
  extrapolated: row['status'] === 'EXTRAPOLATED',
}));

describe('heat capacity', () => {
  it.each(capacities.filter(({ source }) => source.startsWith('LAL2009')))(
    '$source: $solute $massFraction at $temperatureC °C is $jPerKgK J/(kg K)',
    ({ solute, massFraction, temperatureC, jPerKgK, extrapolated }) => {
      const known = solutes.find((name) => name === solute) ?? 'KOH';
      const found = heatCapacity({ solute: known, massFraction, temperatureC });
      // Printed to the joule, one of them from a solute's value at the very end of its range.
      expect(Math.abs(found.jPerKgK - jPerKgK)).toBeLessThan(1.1);
      expect(found.flags.some((flag) => flag.includes('wt%'))).toBe(extrapolated);
    },
  );

  it.each(capacities.filter(({ source }) => source === 'LEB2019'))(
    'a second correlation, KOH $massFraction at $temperatureC °C, lies within 10 %',
    ({ massFraction, temperatureC, jPerKgK }) => {
      const found = heatCapacity({ solute: 'KOH', massFraction, temperatureC }).jPerKgK;
      expect(Math.abs(found / jPerKgK - 1)).toBeLessThan(0.105);
    },
  );

  it('flags what its source does not cover, and knows nothing of ammonium sulfate', () => {
    expect(heatCapacity({ solute: 'H2SO4', massFraction: 0.2, temperatureC: 70 }).flags).toHaveLength(1);
    expect(heatCapacity({ solute: 'KOH', massFraction: 0.3, temperatureC: 150 }).flags).toHaveLength(2);
    expect(() => heatCapacity({ solute: 'NH4_2SO4', massFraction: 0.1, temperatureC: 20 })).toThrow(
      'solute is NH4_2SO4',
    );
  });
});

const activities = readCsv('heat/water_activity.csv').map((row) => ({
  solute: row['solute'] as Caustic,
  massFraction: Number(row['wt_pct']) / 100,
  temperatureC: Number(row['temp_C']),
  activity: Number(row['water_activity']),
  kPa: Number(row['p_H2O_kPa']),
}));

describe('water over caustic', () => {
  it.each(activities)(
    'Balej 1985: $solute $massFraction at $temperatureC °C, $activity and $kPa kPa',
    (row) => {
      const found = waterActivity(row);
      expect(Math.abs(found.waterActivity - row.activity)).toBeLessThan(0.00006);
      expect(found.flags).toEqual([]);
      // Printed to the pascal.
      expect(Math.abs(vapourPressureKPa(row) - row.kPa)).toBeLessThan(0.00051 + 1e-4 * row.kPa);
    },
  );

  it.each([
    { solute: 'KOH', massFraction: 0.51 },
    { solute: 'NaOH', massFraction: 0.51 },
  ] as const)('$solute $massFraction is past the source', (input) => {
    expect(waterActivity({ ...input, temperatureC: 60 }).flags).toHaveLength(1);
  });

  it('falls with strength, from one over water', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('KOH' as const, 'NaOH' as const),
        fc.double({ min: 0, max: 0.49, noNaN: true }),
        (solute, w) => {
          const at = (massFraction: number): number =>
            waterActivity({ solute, massFraction, temperatureC: 60 }).waterActivity;
          expect(at(0)).toBe(1);
          // The fits bend up by a few 1e-4 in the first per cent.
          expect(at(w + 0.01)).toBeLessThan(at(w));
        },
      ),
    );
  });
});

describe('boiling point', () => {
  const rows = readCsv('heat/boiling_points.csv').map((row) => ({
    solute: row['solute'] as Caustic,
    massFraction: Number(row['wt_pct']) / 100,
    boilsAtC: Number(row['boiling_point_C']),
    source: row['source'] ?? '',
  }));

  it.each(rows.filter(({ source }) => source === 'BALEJ1985'))(
    '$source: $solute $massFraction boils at $boilsAtC °C',
    (row) => {
      expect(Math.abs(boilingPoint(row).modelC - row.boilsAtC)).toBeLessThan(0.051);
    },
  );

  it.each(rows.filter(({ source }) => source === 'DOW'))(
    'the producer of $solute $massFraction: $boilsAtC °C',
    (row) => {
      const found = boilingPoint(row);
      expect(found.temperatureC).toBeCloseTo(row.boilsAtC, 6);
      expect(found.flags).toHaveLength(1);
    },
  );

  it('is 100.03 °C for water, lower up the mountain, and joins at 40 wt% NaOH', () => {
    expect(boilingPoint({ solute: 'KOH', massFraction: 0 }).temperatureC).toBeCloseTo(100.03, 2);
    expect(boilingPoint({ solute: 'KOH', massFraction: 0, pressureKPa: 85 }).temperatureC).toBeLessThan(96);
    const { temperatureC, modelC } = boilingPoint({ solute: 'NaOH', massFraction: 0.4 });
    expect(temperatureC).toBe(modelC);
    expect(boilingPoint({ solute: 'NaOH', massFraction: 0.45 }).temperatureC).toBeCloseTo(140.4 - 3.3, 0);
  });

  it('refuses what has no curve', () => {
    expect(() => boilingPoint({ solute: 'H2SO4' as 'KOH', massFraction: 0.2 })).toThrow('solute is H2SO4');
    expect(() => boilingPoint({ solute: 'KOH', massFraction: 0.7 })).toThrow('massFraction is 0.7');
  });
});

describe('heating up', () => {
  const h1 = { solute: 'KOH', massFraction: 0.5, volumeL: 400, fromC: 20, toC: 65 } as const;
  const tank = { material: 'carbon steel', kg: 120 } as const;

  /** Each tolerance is half of the last digit that the source prints. */
  it.each(
    workedExamples([
      ['H1: bath, kg', () => heatUp(h1).liquidKg, 604.9, 0.05],
      ['H1: heat capacity half-way', () => heatCapacity({ ...h1, temperatureC: 42.5 }).jPerKgK, 2552, 2.5],
      ['H1: liquid, kWh', () => heatUp(h1).liquidKWh, 19.3, 0.05],
      ['H1: tank, kWh', () => heatUp({ ...h1, bodies: [tank] }).bodiesKWh, 0.74, 0.006],
      ['H1: the same volume of water, kWh', () => heatUp({ ...h1, massFraction: 0 }).kWh, 20.9, 0.05],
      [
        'a 6 kW heater with 1 kW of losses, h',
        () => heatUp({ ...h1, heaterKw: 6, meanLossKw: 1 }).hours ?? NaN,
        19.31 / 5,
        0.005,
      ],
    ]),
  )('$name', ({ found, right, within }) => {
    expect(Math.abs(found() - right)).toBeLessThanOrEqual(within);
  });

  it.each([
    { material: 'carbon steel', wattHours: 54.4 },
    { material: 'titanium', wattHours: 58.2 },
    { material: 'niobium', wattHours: 29.4 },
    { material: 'tantalum', wattHours: 15.6 },
    { material: 'zirconium', wattHours: 30.9 },
    { material: 'aluminium', wattHours: 99.7 },
  ] as const)('10 kg of $material from 20 to 60 °C take $wattHours Wh', ({ material, wattHours }) => {
    const found = heatUp({ ...h1, toC: 60, bodies: [{ material, kg: 10 }] });
    expect(Math.abs(1000 * found.bodiesKWh - wattHours)).toBeLessThan(0.06);
  });

  it('the specific heats equal the published tables', () => {
    const known: Record<string, number> = specificHeat;
    const renamed: Record<string, string> = {
      'stainless steel (austenitic)': 'stainless steel',
      'polypropylene (tank)': 'polypropylene',
    };
    const rows = readCsv('heat/metals.csv').filter((row) => row['metal'] !== 'titanium (second page)');
    expect(rows).toHaveLength(Object.keys(known).length);
    for (const row of rows) {
      const metal = row['metal'] ?? '';
      expect(known[renamed[metal] ?? metal]).toBe(Number(row['cp_J_per_kgK']));
    }
  });

  it('says when the heater never gets there, and refuses what is no body', () => {
    const found = heatUp({ ...h1, heaterKw: 2, meanLossKw: 2 });
    expect(found.hours).toBeNull();
    expect(found.flags.join()).toContain('never gets there');
    expect(heatUp(h1).hours).toBeNull();
    const lead = [{ material: 'lead' as 'iron', kg: 1 }];
    expect(() => heatUp({ ...h1, bodies: lead })).toThrow('bodies.material is lead');
    expect(() => heatUp({ ...h1, volumeL: 0 })).toThrow('volumeL is 0');
  });
});

const anySolute = fc.constantFrom<Solute>('KOH', 'NaOH', 'H2SO4', 'H3PO4');
describe('heating up, for any bath', () => {
  it('cooling gives back what heating took', () => {
    const warm = fc.double({ min: 20, max: 90, noNaN: true });
    const strength = fc.double({ min: 0, max: 0.45, noNaN: true });
    fc.assert(
      fc.property(anySolute, strength, fc.tuple(warm, warm), (solute, massFraction, [fromC, toC]) => {
        const given = { solute, massFraction, volumeL: 100 };
        const up = heatUp({ ...given, fromC, toC });
        const down = heatUp({ ...given, fromC: toC, toC: fromC });
        // The litres are measured at either end.
        expect(up.kWh / up.liquidKg).toBeCloseTo(-down.kWh / down.liquidKg, 12);
      }),
    );
  });
});
