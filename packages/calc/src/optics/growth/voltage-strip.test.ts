import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../colour/delta-e.ts';
import { colourAtVoltage, filmColour, matchColour, nominalGrowth, voltageStrip } from '../index.ts';

const growth = nominalGrowth({ system: 'titanium' });

describe('voltageStrip', () => {
  it('shows at every voltage the colour of the film that grows there', () => {
    const strip = voltageStrip({ growth, fromV: 0, toV: 120, steps: 60 });
    expect(strip).toHaveLength(61);
    for (const { thicknessNm, lab, hex } of strip) {
      const film = filmColour({ system: 'titanium', thicknessNm });
      expect(ciede2000(lab, film.lab)).toBeLessThan(0.02);
      expect(hex).toMatch(/^#[0-9a-f]{6}$/);
    }
  });

  it('counts orders upwards and never back', () => {
    const orders = voltageStrip({ growth, fromV: 0, toV: 140, steps: 400 }).map(({ order }) => order);
    expect(orders).toEqual(orders.toSorted((one, other) => one - other));
    expect(new Set(orders).size).toBeGreaterThan(2);
  });

  it('marks what lies beyond what the law rests on, and colours no screen can show', () => {
    const beyond = colourAtVoltage({ growth, voltageV: growth.highestVoltageV + 1 });
    expect([beyond.isSupported, colourAtVoltage({ growth, voltageV: 30 }).isSupported]).toEqual([
      false,
      true,
    ]);
    // The light gold of thin niobium oxide is outside sRGB; the deep blue of titanium at 22 V is inside.
    const gold = colourAtVoltage({ growth: nominalGrowth({ system: 'niobium' }), voltageV: 15.2 });
    expect([gold.inGamut, colourAtVoltage({ growth, voltageV: 22 }).inGamut]).toEqual([false, true]);
  });

  it('says the same steepness as the match of its own colour', () => {
    const { lab } = colourAtVoltage({ growth, voltageV: 25 });
    const [best] = matchColour({ target: lab, growth, coupons: [] }).candidates.filter(
      ({ passes }) => passes,
    );
    const here = colourAtVoltage({ growth, voltageV: best?.voltageV ?? NaN });
    expect(here.steepnessDeltaEPerV).toBeCloseTo(best?.steepnessDeltaEPerV ?? NaN, 6);
  });

  it.each([
    [{ fromV: 10, toV: 10, steps: 4 }, /toV/],
    [{ fromV: -1, toV: 10, steps: 4 }, /fromV/],
    [{ fromV: 0, toV: 10, steps: 0 }, /steps/],
    [{ fromV: 0, toV: 2000, steps: 4 }, /toV/],
  ])('refuses %j', (input, words) => {
    expect(() => voltageStrip({ growth, ...input })).toThrow(words);
  });
});
