import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chamberFaults, chamberLimits } from './chamber-limits.ts';
import { exposedHours } from './exposed-hours.ts';
import { firstCorrosion } from './first-corrosion.ts';
import { protectionRating } from './protection-rating.ts';

describe('protection rating (ISO 10289, from memory)', () => {
  it.each([0.1, 0.25, 0.5, 1, 2.5, 5, 10, 25, 50])(
    'of %s %% of the surface is R = 3 (2 - log A), rounded',
    (defectAreaPercent) => {
      expect(protectionRating({ defectAreaPercent })).toBe(
        Math.round(3 * (2 - Math.log10(defectAreaPercent))),
      );
    },
  );

  it('is 10 only for a surface without any, and 0 beyond half of it', () => {
    expect([0, 1e-6, 50.01, 100].map((percent) => protectionRating({ defectAreaPercent: percent }))).toEqual([
      10, 9, 0, 0,
    ]);
    expect(() => protectionRating({ defectAreaPercent: 100.5 })).toThrow('defectAreaPercent');
  });
});

describe('exposed hours', () => {
  it('counts an hour that two interruptions share once', () => {
    const interruptions = [
      { fromH: 10, toH: 20 },
      { fromH: 15, toH: 25 },
      { fromH: 15, toH: 18 },
    ];
    expect(exposedHours({ untilH: 100, interruptions })).toBe(85);
  });

  it('leaves out what begins later, and cuts what lasts', () => {
    expect(exposedHours({ untilH: 40, interruptions: [{ fromH: 50, toH: null }] })).toBe(40);
    expect(exposedHours({ untilH: 40, interruptions: [{ fromH: 30, toH: null }] })).toBe(30);
  });

  it('refuses an interruption that ends before it began', () => {
    expect(() => exposedHours({ untilH: 40, interruptions: [{ fromH: 9, toH: 3 }] })).toThrow('9 h');
  });

  it('is never negative, never above the clock, and never falls', () => {
    const hour = fc.double({ min: 0, max: 1000, noNaN: true });
    const pause = fc.tuple(hour, hour).map(([a, b]) => ({ fromH: Math.min(a, b), toH: Math.max(a, b) }));
    fc.assert(
      fc.property(fc.array(pause, { maxLength: 6 }), hour, hour, (interruptions, a, b) => {
        const [early, late] = [Math.min(a, b), Math.max(a, b)];
        const before = exposedHours({ untilH: early, interruptions });
        const after = exposedHours({ untilH: late, interruptions });
        expect(before).toBeGreaterThanOrEqual(-1e-9);
        expect(before).toBeLessThanOrEqual(early);
        expect(after).toBeGreaterThanOrEqual(before - 1e-9);
      }),
    );
  });
});

describe('first corrosion', () => {
  it('lies between looks: a day that nobody looked on makes it less sure', () => {
    const clear = (exposedH: number) => ({ exposedH, corroded: false });
    const seen = (exposedH: number) => ({ exposedH, corroded: true });
    expect(firstCorrosion({ looks: [seen(96), clear(24), clear(48)] })).toEqual({ afterH: 48, byH: 96 });
    expect(firstCorrosion({ looks: [seen(24)] })).toEqual({ afterH: 0, byH: 24 });
    expect(firstCorrosion({ looks: [clear(24), clear(120)] })).toEqual({ afterH: 120, byH: null });
    expect(firstCorrosion({ looks: [] })).toEqual({ afterH: 0, byH: null });
  });

  it('does not heal', () => {
    const looks = [
      { exposedH: 24, corroded: true },
      { exposedH: 48, corroded: false },
    ];
    expect(firstCorrosion({ looks })).toEqual({ afterH: 0, byH: 24 });
  });
});

describe('limits of a chamber', () => {
  const limits = chamberLimits({ method: 'neutral-salt-spray' });

  it('take their edges in', () => {
    expect(chamberFaults({ reading: { temperatureC: 33, pH: 7.2, saltGPerL: 55 }, limits })).toEqual([]);
  });

  it('name every figure outside, and none that was not read', () => {
    expect(
      chamberFaults({ reading: { temperatureC: 32.9, pH: null, collectionMlPerHour: 2.1 }, limits }),
    ).toEqual(['temperatureC', 'collectionMlPerHour']);
  });

  it('judge nothing that has no range', () => {
    const humid = chamberLimits({ method: 'humidity' });
    expect(chamberFaults({ reading: { pH: 1, temperatureC: 40 }, limits: humid })).toEqual([]);
  });
});
