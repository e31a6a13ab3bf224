import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { conductorCheck, electrolysisHeat, gasEvolution, powerSupplyCheck } from './index.ts';

const supply = { maxCurrentA: 500, maxVoltageV: 6, efficiency: 0.85, powerFactor: 0.9 };
const load = { areaM2: 0.35, rackAreaM2: 0, peakAPerM2: 1000, voltageV: 2.6, supply };

describe('power supply', () => {
  it('0.35 m2 at 1000 A/m2 and 2.6 V: 350 A, 0.91 kW dc', () => {
    const check = powerSupplyCheck(load);
    expect(check).toMatchObject({ currentA: 350, voltageV: 2.6, fits: true, binding: 'current', flags: [] });
    expect(check.powerKw).toBeCloseTo(0.91, 12);
    expect(check.margin).toBeCloseTo(500 / 350 - 1, 12);
    expect(check.largestAreaM2).toBeCloseTo(0.5, 12);
    expect(check.advisedCurrentA).toBeCloseTo(420, 9);
    expect(check.advisedVoltageV).toBeCloseTo(3.12, 12);
  });

  it.each([
    ['too many amperes', { areaM2: 0.6 }, 'current', false],
    ['too many volts', { voltageV: 7 }, 'voltage', false],
    ['too many kilowatts', { supply: { ...supply, maxPowerKw: 0.8 } }, 'power', false],
    ['little to spare', { areaM2: 0.45 }, 'current', true],
  ])('%s', (...[, change, binding, fits]) => {
    const check = powerSupplyCheck({ ...load, ...change });
    expect(check).toMatchObject({ binding, fits });
    expect(check.flags).toEqual([
      expect.stringMatching(fits ? /less than a fifth/ : new RegExp(`too little ${binding}`)),
    ]);
  });

  it('leads and contacts take their volts: 350 A over 5 mOhm is 1.75 V', () => {
    const check = powerSupplyCheck({ ...load, circuitResistanceOhm: 0.005 });
    expect(check.voltageV).toBeCloseTo(4.35, 12);
    // 6 V leave 3.4 V for the circuit, 680 A; the supply's 500 A come first.
    expect(check.largestAreaM2).toBeCloseTo(0.5, 12);
    expect(powerSupplyCheck({ ...load, circuitResistanceOhm: 0.01 }).largestAreaM2).toBeCloseTo(0.34, 12);
  });

  it('no area fits when the voltage alone is too much, or the rack takes all', () => {
    expect(powerSupplyCheck({ ...load, voltageV: 6.1 }).largestAreaM2).toBe(0);
    expect(powerSupplyCheck({ ...load, rackAreaM2: 0.6 }).largestAreaM2).toBe(0);
  });

  it('the largest area just fits, and a little more does not', () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const anyLoad = fc.record({
      areaM2: number(0.01, 5),
      rackAreaM2: number(0, 0.05),
      peakAPerM2: number(10, 2000),
      voltageV: number(1, 60),
      circuitResistanceOhm: fc.constantFrom(0, 0.001, 0.02),
      supply: fc.record({
        maxCurrentA: number(150, 2000),
        maxVoltageV: number(70, 120),
        maxPowerKw: fc.option(number(10, 60)),
      }),
    });
    fc.assert(
      fc.property(anyLoad, (input) => {
        const { largestAreaM2 } = powerSupplyCheck(input);
        fc.pre(largestAreaM2 > 0.001);
        expect(powerSupplyCheck({ ...input, areaM2: largestAreaM2 * (1 - 1e-9) }).fits).toBe(true);
        expect(powerSupplyCheck({ ...input, areaM2: largestAreaM2 * (1 + 1e-6) }).fits).toBe(false);
      }),
    );
  });

  it.each([
    ['supply.maxCurrentA', { supply: { ...supply, maxCurrentA: 0 } }],
    ['supply.efficiency', { supply: { ...supply, efficiency: 85 } }],
    ['supply.powerFactor', { supply: { ...supply, powerFactor: 0 } }],
    ['peakAPerM2', { peakAPerM2: 0 }],
    ['areaM2', { areaM2: NaN }],
  ])('refuses a wrong %s', (argument, change) => {
    expect(() => powerSupplyCheck({ ...load, ...change })).toThrowError(
      expect.objectContaining({ argument }),
    );
  });
});

describe('pitfall: the load without its rack', () => {
  it('0.05 m2 of bare rack draws 50 A more and leaves as much less for pieces', () => {
    const check = powerSupplyCheck({ ...load, rackAreaM2: 0.05 });
    expect(check.currentA).toBeCloseTo(400, 9);
    expect(check.largestAreaM2).toBeCloseTo(0.45, 12);
  });
});

describe('pitfall: kVA against kW, dc against ac', () => {
  it('0.91 kW dc is 1.07 kW from the mains and 1.19 kVA in the cable', () => {
    const check = powerSupplyCheck(load);
    expect(check.mainsPowerKw).toBeCloseTo(0.91 / 0.85, 12);
    expect(check.mainsApparentKva).toBeCloseTo(0.91 / 0.85 / 0.9, 12);
  });

  it('says nothing it does not know', () => {
    const unknown = { maxCurrentA: 500, maxVoltageV: 6, powerFactor: 0.9 };
    expect(powerSupplyCheck({ ...load, supply: unknown })).toMatchObject({
      mainsPowerKw: null,
      mainsApparentKva: null,
    });
    const factorless = powerSupplyCheck({ ...load, supply: { ...supply, powerFactor: null } });
    expect(factorless.mainsApparentKva).toBeNull();
    expect(factorless.mainsPowerKw).not.toBeNull();
  });
});

describe('pitfall: ventilation with less than all current making gas', () => {
  it('300 A: 0.137 m3/h of hydrogen, 13.7 m3/h of air for 1 % by volume', () => {
    const gas = gasEvolution({ currentA: 300 });
    expect(gas.hydrogenM3PerH).toBeCloseTo(0.137, 3);
    expect(gas.airM3PerH).toBeCloseTo(13.7, 1);
    expect(gas.oxygenM3PerH).toBeCloseTo(gas.hydrogenM3PerH / 2, 12);
  });

  it('per ampere-hour: 0.4564 L and 0.03761 g of hydrogen, 0.3361 g of water', () => {
    const gas = gasEvolution({ currentA: 1 });
    expect(gas.hydrogenM3PerH * 1000).toBeCloseTo(0.4564, 4);
    expect(gas.hydrogenGPerH).toBeCloseTo(0.03761, 5);
    expect(gas.waterGPerH).toBeCloseTo(0.3361, 4);
  });

  it('all current makes gas unless said otherwise', () => {
    expect(gasEvolution({ currentA: 300, gasShare: 1 })).toEqual(gasEvolution({ currentA: 300 }));
    expect(gasEvolution({ currentA: 300, gasShare: 0 }).airM3PerH).toBe(0);
    expect(() => gasEvolution({ currentA: 300, gasShare: 1.1 })).toThrowError(/gasShare/);
  });
});

describe('heat of the current', () => {
  it.each([
    [
      '350 A at 2.6 V, all gas: 392 W of 910',
      { currentA: 350, cellVoltageV: 2.6, reaction: 'water-splitting' as const },
      392,
    ],
    [
      'half of it gas',
      { currentA: 350, cellVoltageV: 2.6, reaction: 'water-splitting' as const, share: 0.5 },
      651,
    ],
    [
      'aluminium at 18 V: 8 % more than V I',
      { currentA: 100, cellVoltageV: 18, reaction: 'aluminium-oxide' as const },
      1941,
    ],
    ['magnetite: no correction', { currentA: 100, cellVoltageV: 2.5, reaction: 'magnetite' as const }, 250],
    ['never cold', { currentA: 100, cellVoltageV: 1.2, reaction: 'water-splitting' as const }, 0],
  ])('%s', (...[, given, heatW]) => {
    const heat = electrolysisHeat(given);
    expect(heat.heatW).toBeCloseTo(heatW, 9);
    expect(heat.electricalW).toBeCloseTo(given.currentA * given.cellVoltageV, 9);
  });

  it('refuses an unknown reaction', () => {
    const given = { currentA: 1, cellVoltageV: 1, reaction: 'rust' as 'magnetite' };
    expect(() => electrolysisHeat(given)).toThrowError(/reaction is rust/);
  });
});

describe('conductors', () => {
  it('600 A over a 6 m loop of 387 mm2 copper loses 0.16 V, 6 % of a 2.6 V cell', () => {
    const check = conductorCheck({ currentA: 600, crossSectionMm2: 387, lengthM: 6, metal: 'copper' });
    expect(check.dropV).toBeCloseTo(0.16, 2);
    expect(check.dropV / 2.6).toBeCloseTo(0.06, 2);
    expect(check.lossW).toBeCloseTo(96.2, 1);
  });

  it.each([
    ['copper', 1.55],
    ['aluminium', 1.085],
  ] as const)('%s carries %d A/mm2', (metal, allowed) => {
    const check = conductorCheck({ currentA: 100, crossSectionMm2: 100, lengthM: 1, metal });
    expect(check.allowedAPerMm2).toBeCloseTo(allowed, 3);
    expect(check.fits).toBe(true);
    expect(conductorCheck({ currentA: 156, crossSectionMm2: 100, lengthM: 1, metal }).fits).toBe(false);
    expect(
      conductorCheck({
        currentA: 100,
        crossSectionMm2: check.smallestCrossSectionMm2 * 1.0001,
        lengthM: 1,
        metal,
      }).fits,
    ).toBe(true);
  });
});
