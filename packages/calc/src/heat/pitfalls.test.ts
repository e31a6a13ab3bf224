import { describe, expect, it } from 'vitest';
import { density } from '../bath/density.ts';
import { boilingPoint } from './boiling-point.ts';
import { evaporationRate } from './evaporation.ts';
import { heatCapacity } from './heat-capacity.ts';
import { waterActivity } from './water-activity.ts';

/** What a first implementation gets wrong, each mistake under its number. */

const bath = { solute: 'KOH', massFraction: 0.5, temperatureC: 60 } as const;
const room = { temperatureC: 20, relativeHumidity: 0.5 };

describe('pitfalls of heat', () => {
  it('6: cold caustic gains water', () => {
    const { kgPerM2H, flags } = evaporationRate({ ...bath, temperatureC: 20, room });
    expect(kgPerM2H).toBeLessThan(0);
    expect(flags.join()).toContain('draws water from the air');
  });

  it('14: heat capacity and water activity past their range come with a flag', () => {
    expect(heatCapacity(bath).flags.join()).toContain('ends at 46.53 wt%');
    expect(heatCapacity({ ...bath, massFraction: 0.46 }).flags).toEqual([]);
    expect(heatCapacity({ solute: 'NaOH', massFraction: 0.4, temperatureC: 60 }).flags).toHaveLength(1);
    expect(waterActivity({ solute: 'KOH', massFraction: 0.52, temperatureC: 60 }).flags.join()).toContain(
      '18 mol/kg',
    );
    expect(waterActivity({ solute: 'NaOH', massFraction: 0.52, temperatureC: 60 }).flags.join()).toContain(
      '25 mol/kg',
    );
    expect(boilingPoint({ solute: 'KOH', massFraction: 0.52 }).flags).toHaveLength(1);
  });

  it('21: caustic has not the heat capacity of water by mass (+63 %), nor its evaporation (8 times)', () => {
    const { jPerKgK } = heatCapacity(bath);
    expect(Math.round(100 * (4182.8 / jPerKgK - 1))).toBe(63);
    // By volume it comes within 8 %.
    const perLitre = (jPerKgK * density(bath).kgPerM3) / 1000;
    const waterPerLitre = (4182.8 * density({ ...bath, massFraction: 0 }).kgPerM3) / 1000;
    expect(perLitre / waterPerLitre).toBeGreaterThan(0.92);
    const water = evaporationRate({ ...bath, massFraction: 0, room });
    expect(water.wattsPerM2 / evaporationRate({ ...bath, room }).wattsPerM2).toBeCloseTo(8, 0);
  });

  it('the humidity-ratio form runs away when hot: this one is not 35.8 kW/m2 at 93 °C', () => {
    const tableRoom = { temperatureC: 15.56, relativeHumidity: 0.5 };
    const { wattsPerM2 } = evaporationRate({ ...bath, massFraction: 0, temperatureC: 93.3, room: tableRoom });
    expect(wattsPerM2).toBeLessThan(9000);
  });
});
