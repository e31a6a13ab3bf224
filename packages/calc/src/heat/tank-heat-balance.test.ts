import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CalcError } from '../errors.ts';
import { density } from '../bath/density.ts';
import { heatCapacity } from './heat-capacity.ts';
import { openSurfaceLoss, wallLoss } from './losses.ts';
import type { TankDay } from './tank-day.ts';
import { tankHeatBalance, type TankHeatBalance } from './tank-heat-balance.ts';

const room = { temperatureC: 20, relativeHumidity: 0.5 };
const bath = { solute: 'KOH', massFraction: 0.5, volumeL: 400 } as const;

const day: TankDay = {
  bath,
  surfaceAreaM2: 0.6,
  walls: { areaM2: 2.8, transmittanceWPerM2K: 1.14 },
  shell: [{ material: 'carbon steel', kg: 120 }],
  room,
  startC: 20,
  periods: [
    { hours: 3, targetC: 65, coverShare: 0.9 },
    {
      hours: 8,
      targetC: 65,
      loads: [{ material: 'carbon steel', kg: 400 }],
      current: { amps: 100, cellVolts: 2.6 },
    },
    { hours: 13, targetC: null, coverShare: 0.9 },
  ],
};

const holding: TankDay = { ...day, startC: 65, periods: [{ hours: 24, targetC: 65 }] };

/** In, less out, less stored. */
const imbalance = (found: TankHeatBalance): number =>
  found.heaterKWh +
  found.jouleKWh -
  found.coolerKWh -
  found.evaporationKWh -
  found.radiationAndConvectionKWh -
  found.wallsKWh -
  found.loadsKWh -
  found.makeUpWaterKWh -
  found.storedKWh;

describe('a tank over one day', () => {
  it('heats up in its first period, holds in the second, cools in the third', () => {
    const found = tankHeatBalance(day);
    expect(found.hourly).toHaveLength(24);
    expect(found.hourly[2]?.temperatureC).toBeCloseTo(65, 1);
    expect(found.hourly[10]?.temperatureC).toBeCloseTo(65, 1);
    expect(found.endC).toBeGreaterThan(45);
    expect(found.endC).toBeLessThan(60);
    expect(found.flags.some((flag) => flag.startsWith('period'))).toBe(false);
  });

  it('holding costs what the loss formulas say, hour for hour', () => {
    const found = tankHeatBalance(holding);
    const surface = openSurfaceLoss({ ...bath, areaM2: 0.6, temperatureC: 65, room });
    const walls = wallLoss({ ...day.walls, temperatureC: 65, roomTemperatureC: 20 });
    expect(found.evaporationKWh).toBeCloseTo((24 * surface.evaporationW) / 1000, 6);
    expect(found.wallsKWh).toBeCloseTo((24 * walls.watts) / 1000, 6);
    expect(found.waterEvaporatedKg).toBeCloseTo(24 * surface.evaporationKgPerH, 6);
    const makeUpKWh = (24 * surface.evaporationKgPerH * 4.186 * 45) / 3600;
    expect(found.makeUpWaterKWh).toBeCloseTo(makeUpKWh, 6);
    expect(found.heaterNeededKw).toBeCloseTo((surface.totalW + walls.watts) / 1000 + makeUpKWh / 24, 6);
    expect(found.heaterKWh).toBeCloseTo(24 * found.heaterNeededKw, 6);
    expect(found.storedKWh).toBeCloseTo(0, 9);
  });

  it('loads take their heat: 400 kg of steel from 20 to 65 °C are 2.45 kWh', () => {
    expect(tankHeatBalance(day).loadsKWh).toBeCloseTo((400 * 490 * 45) / 3.6e6, 2);
    const warm = {
      ...holding,
      periods: [{ hours: 24, targetC: 65, loads: [{ material: 'iron', kg: 50, enterC: 65 }] }],
    } as const;
    expect(tankHeatBalance(warm).loadsKWh).toBeCloseTo(0, 9);
  });

  it('the current heats: 100 A at 2.6 V are 260 W, 112 W when all of it makes gas', () => {
    expect(tankHeatBalance(day).jouleKWh).toBeCloseTo(0.26 * 8, 9);
    const current = { amps: 350, cellVolts: 2.6, reactionVolts: 1.48 };
    const gassing = { ...holding, periods: [{ hours: 24, targetC: 65, current }] };
    expect(tankHeatBalance(gassing).jouleKWh).toBeCloseTo(0.392 * 24, 9);
  });

  it('an anodizing bath asks for a cooler, and its size', () => {
    const anodizing: TankDay = {
      bath: { solute: 'H2SO4', massFraction: 0.162, volumeL: 1000 },
      surfaceAreaM2: 1,
      walls: { areaM2: 5, transmittanceWPerM2K: 11.4 },
      room,
      startC: 20,
      periods: [
        { hours: 8, targetC: 20, current: { amps: 500, cellVolts: 18, reactionVolts: -1.41 } },
        { hours: 16, targetC: null },
      ],
    };
    const found = tankHeatBalance(anodizing);
    // At the room's own warmth the surface still evaporates a little: 180 W/m2.
    expect(found.coolerNeededKw).toBeGreaterThan(9.5);
    expect(found.coolerNeededKw).toBeLessThan((500 * 19.41) / 1000);
    expect(found.coolerKWh).toBeCloseTo(8 * found.coolerNeededKw, 3);
    const weak = tankHeatBalance({ ...anodizing, coolerKw: 5 });
    expect(weak.flags.join()).toMatch(/period 1 ends \d+\.\d K above its target/);
  });

  it('a heater too small is told from one that is not', () => {
    const small = tankHeatBalance({ ...day, heaterKw: 4 });
    expect(small.flags.join()).toMatch(/period 1 ends \d+\.\d K below its target/);
    expect(small.heaterKWh).toBeLessThanOrEqual(4 * 11 + 1e-9);
    const enough = tankHeatBalance({ ...day, heaterKw: tankHeatBalance(day).heaterNeededKw });
    expect(enough.flags.some((flag) => flag.startsWith('period'))).toBe(false);
  });

  it('a lid at night keeps the tank warmer', () => {
    const bare = { ...day, periods: day.periods.map((period) => ({ ...period, coverShare: 0 })) };
    expect(tankHeatBalance(day).endC).toBeGreaterThan(tankHeatBalance(bare).endC + 2);
    expect(tankHeatBalance(day).heaterKWh).toBeLessThan(tankHeatBalance(bare).heaterKWh);
  });

  it('cooling down follows the exponential of a tank with walls alone', () => {
    const walled: TankDay = {
      ...day,
      surfaceAreaM2: 0,
      shell: [],
      startC: 80,
      periods: [{ hours: 24, targetC: null }],
    };
    const { kgPerM3 } = density({ ...bath, temperatureC: 80 });
    const { jPerKgK } = heatCapacity({ ...bath, temperatureC: 80 });
    const capacity = 0.4 * kgPerM3 * jPerKgK;
    const right = 20 + 60 * Math.exp((-2.8 * 1.14 * 86_400) / capacity);
    expect(tankHeatBalance(walled).endC).toBeCloseTo(right, 2);
  });

  it.each([
    ['periods', { periods: [{ hours: 8, targetC: 60 }] }],
    ['periods.hours', { periods: [{ hours: 0, targetC: 60 }] }],
    ['periods.targetC', { periods: [{ hours: 24, targetC: 150 }] }],
    ['periods.loads.kg', { periods: [{ hours: 24, targetC: 60, loads: [{ material: 'iron', kg: -1 }] }] }],
    [
      'periods.current.reactionVolts',
      { periods: [{ hours: 24, targetC: 60, current: { amps: 1, cellVolts: 1, reactionVolts: 2 } }] },
    ],
    ['bath.volumeL', { bath: { ...bath, volumeL: 0 } }],
    ['walls.areaM2', { walls: { areaM2: NaN, transmittanceWPerM2K: 1 } }],
    ['heaterKw', { heaterKw: -1 }],
    ['startC', { startC: 150 }],
  ])('refuses a bad %s', (argument, change) => {
    const bad = { ...day, ...change } as TankDay;
    expect(() => tankHeatBalance(bad)).toThrow(CalcError);
    expect(() => tankHeatBalance(bad)).toThrow(`${argument} is`);
  });
});

describe('a tank over any day', () => {
  const anyDay = fc
    .record({
      massFraction: fc.double({ min: 0, max: 0.5, noNaN: true }),
      volumeL: fc.double({ min: 50, max: 3000, noNaN: true }),
      surfaceAreaM2: fc.double({ min: 0, max: 4, noNaN: true }),
      startC: fc.double({ min: 10, max: 90, noNaN: true }),
      heaterKw: fc.option(fc.double({ min: 0, max: 30, noNaN: true }), { nil: undefined }),
      first: fc.double({ min: 1, max: 23, noNaN: true }),
      targets: fc.tuple(
        fc.option(fc.double({ min: 20, max: 90, noNaN: true })),
        fc.option(fc.double({ min: 20, max: 90, noNaN: true })),
      ),
      amps: fc.double({ min: 0, max: 500, noNaN: true }),
    })
    .map(({ massFraction, volumeL, first, targets, amps, heaterKw, ...rest }): TankDay => ({
      ...rest,
      ...(heaterKw === undefined ? {} : { heaterKw }),
      bath: { solute: 'NaOH', massFraction, volumeL },
      walls: { areaM2: 4, transmittanceWPerM2K: 5 },
      room,
      periods: [
        { hours: first, targetC: targets[0], current: { amps, cellVolts: 3 } },
        { hours: 24 - first, targetC: targets[1], loads: [{ material: 'titanium', kg: 100 }] },
      ],
    }));

  it('what goes in comes out or stays, and no heater gives more than it has', () => {
    fc.assert(
      fc.property(anyDay, (any) => {
        const found = tankHeatBalance(any);
        expect(imbalance(found)).toBeCloseTo(0, 6);
        expect(found.heaterKWh).toBeGreaterThanOrEqual(0);
        expect(found.coolerKWh).toBeGreaterThanOrEqual(0);
        if (any.heaterKw !== undefined) expect(found.heaterKWh).toBeLessThanOrEqual(24 * any.heaterKw + 1e-9);
      }),
      { numRuns: 30 },
    );
  });

  it('a heater as large as the day needs reaches every target from below', () => {
    fc.assert(
      fc.property(anyDay, ({ heaterKw: _heaterKw, ...any }) => {
        const found = tankHeatBalance(any);
        expect(found.flags.filter((flag) => flag.includes('below its target'))).toEqual([]);
      }),
      { numRuns: 30 },
    );
  });
});
