import { describe, expect, it } from 'vitest';
import { filmModel, niobiumSystem, titaniumSystem } from '../optics/index.ts';
import { deltaE2000 } from './delta-e.ts';
import { type ColourReading, labFromReadings } from './from-readings.ts';
import { wavelengthsNm } from './spectral-weights.ts';

const instrument = { first: 400, last: 700, step: 10 };
/** What an instrument with a reading every 10 nm makes of a spectrum by 5 nm. */
const sampled = (reflectance: readonly number[], { first, last, step } = instrument) => {
  const kept = wavelengthsNm.flatMap((nm, i) =>
    nm >= first && nm <= last && (nm - first) % step === 0 ? [i] : [],
  );
  return {
    wavelengthsNm: kept.map((i) => wavelengthsNm[i] ?? NaN),
    reflectance: kept.map((i) => reflectance[i] ?? NaN),
  };
};

describe('labFromReadings', () => {
  it('averages, and says how well the readings repeat', () => {
    const read = labFromReadings({
      readings: [
        { L: 50, a: 10, b: 5 },
        { L: 52, a: 10, b: 5 },
      ],
    });
    expect(read.lab).toEqual({ L: 51, a: 10, b: 5 });
    const apart = [50, 52].map((L) => deltaE2000({ L: 51, a: 10, b: 5 }, { L, a: 10, b: 5 }));
    expect(read.largestDeltaE).toBeCloseTo(Math.max(...apart), 12);
    expect(read.meanDeltaE).toBeCloseTo(((apart[0] ?? NaN) + (apart[1] ?? NaN)) / 2, 12);
    expect(read).toMatchObject({ count: 2, flags: [] });
  });

  it('does not invent repeatability from one reading', () => {
    const read = labFromReadings({ readings: [{ L: 50, a: 10, b: 5 }] });
    expect(read).toEqual({
      lab: { L: 50, a: 10, b: 5 },
      meanDeltaE: null,
      largestDeltaE: null,
      count: 1,
      flags: [],
    });
  });

  it('flags an uneven surface', () => {
    const readings = [
      { L: 50, a: 10, b: 5 },
      { L: 56, a: 10, b: 5 },
    ];
    expect(labFromReadings({ readings }).flags.join()).toMatch(/differ from their mean by up to 3/);
  });

  it('reads all four forms of one colour alike', () => {
    const film = filmModel(titaniumSystem).colourAt(50);
    const whole = { wavelengthsNm, reflectance: film.reflectance };
    const forms: ColourReading[] = [film.lab, film.lch, film.xyz, whole];
    const read = labFromReadings({ readings: forms });
    expect(read.largestDeltaE).toBeLessThan(1e-9);
    expect(read.flags).toEqual([]);
    for (const part of ['L', 'a', 'b'] as const) expect(read.lab[part]).toBeCloseTo(film.lab[part], 9);
  });

  it('makes a good colour of an instrument that reads 400 to 700 nm by 10 nm, and says that it ends early', () => {
    for (const system of [titaniumSystem, niobiumSystem]) {
      const model = filmModel(system);
      for (let nm = 0; nm <= 250; nm += 10) {
        const { lab, reflectance } = model.colourAt(nm);
        const read = labFromReadings({ readings: [sampled(reflectance)] });
        expect(deltaE2000(read.lab, lab)).toBeLessThan(0.15);
        expect(read.flags.join()).toMatch(/ends inside/);
      }
    }
  });

  it.each([
    [380, 780, false],
    [385, 780, true],
    [380, 775, true],
  ])('says of a spectrum from %d to %d nm whether it ends early: %s', (first, last, early) => {
    const flat = wavelengthsNm.map(() => 0.2);
    const cut = sampled(flat, { first, last, step: 5 });
    const whole = { wavelengthsNm, reflectance: flat };
    // One that is cut among whole ones is enough.
    const { flags } = labFromReadings({ readings: [whole, cut] });
    expect(flags.join().includes('ends inside')).toBe(early);
  });

  it.each([10, 20])('interpolates a cubic exactly from readings every %d nm', (step) => {
    const cubic = (nm: number) => 0.5 + 0.3 * ((nm - 580) / 200) ** 3 - 0.1 * ((nm - 580) / 200);
    const measured = Array.from({ length: 400 / step + 1 }, (_, i) => 380 + step * i);
    const coarse = { wavelengthsNm: measured, reflectance: measured.map(cubic) };
    const fine = { wavelengthsNm, reflectance: wavelengthsNm.map(cubic) };
    const [one, other] = [coarse, fine].map((spectrum) => labFromReadings({ readings: [spectrum] }).lab);
    for (const part of ['L', 'a', 'b'] as const) expect(one?.[part]).toBeCloseTo(other?.[part] ?? NaN, 9);
  });

  it('flags other light, observer and geometry; a spectrum carries its colour under any light', () => {
    const lab = { L: 50, a: 10, b: 5 };
    const whole = { wavelengthsNm, reflectance: wavelengthsNm.map(() => 0.2) };
    const flagsFor = (reading: ColourReading, conditions: object) =>
      labFromReadings({ readings: [reading], conditions }).flags;
    expect(flagsFor(lab, { illuminant: 'D50' }).join()).toMatch(/D50, 2 degree/);
    expect(flagsFor(lab, { observerDeg: 10 }).join()).toMatch(/D65, 10 degree/);
    expect(flagsFor(lab, { specular: 'excluded' }).join()).toMatch(/specular/);
    expect(flagsFor(whole, { illuminant: 'D50', observerDeg: 10 })).toEqual([]);
    expect(flagsFor(whole, { specular: 'excluded' })).toHaveLength(1);
    const mixed = labFromReadings({ readings: [lab, whole], conditions: { illuminant: 'D50' } });
    expect(mixed.flags.join()).toMatch(/D50, 2 degree/);
    expect(flagsFor(lab, { illuminant: 'D65', observerDeg: 2, specular: 'included' })).toEqual([]);
  });
});

describe('refusals', () => {
  const spectrum = sampled(wavelengthsNm.map(() => 0.2));
  it.each([
    [[], 'readings', 'malformed'],
    [[{}], 'readings[0]', 'malformed'],
    [
      [
        { L: 50, a: 0, b: 0 },
        { L: NaN, a: 0, b: 0 },
      ],
      'readings[1].L',
      'not-finite',
    ],
    [[{ L: 50, C: -1, h: 0 }], 'readings[0].C', 'out-of-range'],
    [[{ L: 101, C: 1, h: 0 }], 'readings[0].L', 'out-of-range'],
    [[{ L: 50, C: 1, h: 400 }], 'readings[0].h', 'out-of-range'],
    [[{ X: 20, Y: -1, Z: 20 }], 'readings[0].Y', 'out-of-range'],
    [[{ L: -1, a: 0, b: 0 }], 'readings[0].L', 'out-of-range'],
    [[{ L: 101, a: 0, b: 0 }], 'readings[0].L', 'out-of-range'],
    [[{ L: 50, a: 201, b: 0 }], 'readings[0].a', 'out-of-range'],
    [[{ L: 50, a: -201, b: 0 }], 'readings[0].a', 'out-of-range'],
    [[{ L: 50, a: -200, b: 201 }], 'readings[0].b', 'out-of-range'],
    [[{ L: 50, a: 200, b: -201 }], 'readings[0].b', 'out-of-range'],
    [
      [{ ...spectrum, wavelengthsNm: spectrum.wavelengthsNm.map((nm) => (nm === 400 ? 199 : nm)) }],
      'readings[0].wavelengthsNm[0]',
      'out-of-range',
    ],
    [
      [{ ...spectrum, wavelengthsNm: spectrum.wavelengthsNm.map((nm) => (nm === 700 ? 2501 : nm)) }],
      'readings[0].wavelengthsNm[30]',
      'out-of-range',
    ],
    [
      [{ ...spectrum, wavelengthsNm: spectrum.wavelengthsNm.map((nm) => (nm === 550 ? 540 : nm)) }],
      'readings[0].wavelengthsNm',
      'malformed',
    ],
    [[{ ...spectrum, reflectance: [0.2] }], 'readings[0].reflectance', 'malformed'],
    [
      [{ ...spectrum, reflectance: spectrum.reflectance.map(() => 20) }],
      'readings[0].reflectance[0]',
      'out-of-range',
    ],
    [
      [{ ...spectrum, wavelengthsNm: spectrum.wavelengthsNm.toReversed() }],
      'readings[0].wavelengthsNm',
      'malformed',
    ],
    [
      [sampled(wavelengthsNm, { first: 420, last: 700, step: 10 })],
      'readings[0].reflectance[0]',
      'out-of-range',
    ],
    [
      [
        sampled(
          wavelengthsNm.map(() => 0.2),
          { first: 420, last: 700, step: 10 },
        ),
      ],
      'readings[0].wavelengthsNm',
      'malformed',
    ],
    [
      [
        sampled(
          wavelengthsNm.map(() => 0.2),
          { first: 400, last: 680, step: 10 },
        ),
      ],
      'readings[0].wavelengthsNm',
      'malformed',
    ],
    [
      [
        sampled(
          wavelengthsNm.map(() => 0.2),
          { first: 400, last: 700, step: 25 },
        ),
      ],
      'readings[0].wavelengthsNm',
      'malformed',
    ],
    [[{ wavelengthsNm: [], reflectance: [] }], 'readings[0].wavelengthsNm', 'malformed'],
  ] as const)('$1, $2', (readings, argument, code) => {
    expect(() => labFromReadings({ readings: readings as unknown as ColourReading[] })).toThrow(
      expect.objectContaining({ argument, code }),
    );
  });
});
