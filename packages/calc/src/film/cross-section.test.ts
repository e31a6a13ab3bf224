import { describe, expect, it } from 'vitest';
import { seeded } from '../../reference/optics/seeded.ts';
import { combineUncertainties } from './combine-uncertainties.ts';
import { type CrossSection, filmFromCrossSection } from './film-cross-section.ts';
import { poresFromPicture } from './pore-fraction.ts';

const across = (px: number) => ({ from: { x: 0, y: 100 }, to: { x: 0, y: 100 + px } });
const scale = {
  ...{ from: { x: 10, y: 700 }, to: { x: 510, y: 700 } },
  ...{ lengthUm: 10, lengthUncertaintyUm: 0.1 },
};
const section = (extra: Partial<CrossSection> = {}): CrossSection => ({
  ...{ scale, pairs: [100, 104, 96, 102, 98].map(across), edgeUncertaintyPx: 0.5 },
  ...extra,
});

describe('combined uncertainty', () => {
  it('is that of the example of GUM G.4.1: 1.03 % with 19.0 degrees of freedom', () => {
    const parts = [
      [0.25, 10],
      [0.57, 5],
      [0.82, 15],
    ].map(([standardUncertainty = 0, n = 0]) => ({
      ...{ source: '', standardUncertainty, degreesOfFreedom: n - 1 },
    }));
    const { standardUncertainty, degreesOfFreedom } = combineUncertainties({ contributions: parts });
    expect(standardUncertainty).toBeCloseTo(1.03, 2);
    expect(degreesOfFreedom).toBeCloseTo(19, 0);
  });

  it('has the factor of a normal distribution where nothing scatters, and says nothing of nothing', () => {
    const known = { source: '', standardUncertainty: 3, degreesOfFreedom: null };
    const { coverageFactor, degreesOfFreedom } = combineUncertainties({ contributions: [known] });
    expect(coverageFactor).toBeCloseTo(1.96, 2);
    expect(degreesOfFreedom).toBeNull();
    expect(() => combineUncertainties({ contributions: [{ ...known, standardUncertainty: 0 }] })).toThrow(
      'contributions',
    );
  });
});

describe('thickness by a cross-section', () => {
  it('is the hand-worked one: 20 nm a pixel; 28.3, 20, 14.1 and 2.8 nm make 37.5 with 12.4 degrees of freedom', () => {
    const film = filmFromCrossSection(section());
    expect(film.thicknessNm).toBeCloseTo(2000, 10);
    expect(film.contributions.map(({ standardUncertainty }) => standardUncertainty)).toEqual([
      expect.closeTo(Math.sqrt(800), 10),
      expect.closeTo(20, 10),
      expect.closeTo(Math.sqrt(200), 10),
      expect.closeTo(Math.sqrt(8), 10),
    ]);
    expect(film.standardUncertaintyNm).toBeCloseTo(Math.sqrt(1408), 10);
    expect(film.degreesOfFreedom).toBeCloseTo(1408 ** 2 / (800 ** 2 / 4), 8);
  });

  it('has the spread of ten thousand trials by chance (JCGM 101, propagation of distributions)', () => {
    const random = seeded(5);
    const click = () => 0.5 * random.normal();
    const film = filmFromCrossSection(section());
    const drawn = Array.from({ length: 10_000 }, () => {
      const mean = 100 + (Math.sqrt(10) / Math.sqrt(5)) * random.normal() + click() - click();
      return ((10_000 + 100 * random.normal()) * mean) / (500 + click() - click());
    });
    const mean = drawn.reduce((sum, one) => sum + one, 0) / drawn.length;
    const spread = Math.sqrt(drawn.reduce((sum, one) => sum + (one - mean) ** 2, 0) / drawn.length);
    expect(Math.abs(spread / film.standardUncertaintyNm - 1)).toBeLessThan(0.03);
  });

  it('does not depend on which way the pairs and the bar were clicked, and goes with the bar', () => {
    const turned = section({
      scale: { ...scale, from: scale.to, to: scale.from },
      pairs: section().pairs.map(({ from, to }) => ({ from: to, to: from })),
    });
    expect(filmFromCrossSection(turned).thicknessNm).toBeCloseTo(2000, 10);
    const thousandth = section({ scale: { ...scale, lengthUm: 0.01, lengthUncertaintyUm: 0 } });
    expect(filmFromCrossSection(thousandth).thicknessNm).toBeCloseTo(2, 10);
  });

  it('is refused for a bar of no length, one pair alone, a pair on one place', () => {
    expect(() => filmFromCrossSection(section({ scale: { ...scale, to: scale.from } }))).toThrow('scale');
    expect(() => filmFromCrossSection(section({ pairs: [across(100)] }))).toThrow('pairs.length');
    expect(() => filmFromCrossSection(section({ pairs: [across(100), across(0)] }))).toThrow('pairs[1]');
    expect(() => filmFromCrossSection(section({ scale: { ...scale, lengthUm: 0 } }))).toThrow('lengthUm');
    expect(() =>
      filmFromCrossSection(section({ pairs: [across(1), { from: { x: -5, y: 0 }, to: { x: 5, y: 0 } }] })),
    ).toThrow('pairs[1].from.x');
  });

  it('says where too few pairs or too few pixels leave it', () => {
    const flags = filmFromCrossSection(section({ pairs: [4, 5].map(across) })).flags.join();
    expect(flags).toContain('five or more');
    expect(flags).toContain('closer picture');
  });
});

describe('pores by a picture', () => {
  const picture = {
    scale: {
      ...scale,
      from: { x: 0, y: 480 },
      to: { x: 200, y: 480 },
      lengthUm: 1,
      lengthUncertaintyUm: 0,
    },
    ...{ fieldWidthPx: 600, fieldHeightPx: 500, edgeUncertaintyPx: 0.5 },
  };
  it('are 100 of 100 nm on 3 by 2.5 µm: 10.5 % of the surface, hand-worked', () => {
    const pores = poresFromPicture({ ...picture, pairs: Array.from({ length: 100 }, () => across(20)) });
    expect(pores.areaFraction).toBeCloseTo((100 * Math.PI * 50 ** 2) / (3000 * 2500), 10);
    expect(pores.perSquareUm).toBeCloseTo(100 / 7.5, 10);
    // A count of 100 is known to a tenth; a diameter of 20 pixels to 0.707, twice that as an area.
    const relative = Math.hypot(0.1, (2 * Math.SQRT1_2) / 20);
    expect(pores.areaFractionUncertainty / pores.areaFraction).toBeCloseTo(relative, 10);
  });

  it('have a share that no slip of the scale moves', () => {
    const pairs = [20, 30, 25].map(across);
    const slipped = { ...picture, scale: { ...picture.scale, lengthUm: 1000 } };
    const [one, other] = [picture, slipped].map((options) => poresFromPicture({ ...options, pairs }));
    expect(one?.areaFraction).toBe(other?.areaFraction);
    expect(other?.flags.join()).toContain('3 pores');
  });

  it('are refused where they cover more than the field', () => {
    expect(() =>
      poresFromPicture({ ...picture, pairs: Array.from({ length: 2 }, () => across(600)) }),
    ).toThrow('areaFraction');
  });
});
