import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import type { Lab } from './colour-types.ts';
import { deltaE2000 } from './delta-e.ts';
import { type ColourTarget, judgeColour } from './judge-colour.ts';

const blue = { L: 40, a: 8, b: -30 };
const judge = (reading: Lab, agreed: Partial<ColourTarget> = {}, guardFactor = 1) =>
  judgeColour({
    reading,
    agreed: { target: blue, tolerance: 3, from: 'target', light: null, dark: null, ...agreed },
    expandedUncertainty: 0.5,
    guardFactor,
  });

describe('against a tolerance', () => {
  it.each(readCsv('colour/ciede2000_sharma.csv'))('takes the published difference, pair $pair', (row) => {
    const [target, reading] = [1, 2].map((n) => ({
      ...{ L: Number(row[`L${n}`]), a: Number(row[`a${n}`]), b: Number(row[`b${n}`]) },
    })) as [Lab, Lab];
    const judged = judge(reading, { target });
    const published = Number(row['dE00']);
    expect(judged.deltaE).toBeCloseTo(published, 3);
    expect(judged.verdict).toBe(published <= 2.5 ? 'pass' : published <= 3 ? 'warn' : 'hold');
    expect(judged.dL).toBeCloseTo(reading.L - target.L, 12);
  });

  it('dE 5.5 on tolerance 3 is held, whatever the guard band', () => {
    const drifted = { L: 46.1, a: 8, b: -30 };
    const { deltaE } = judge(drifted);
    expect(deltaE).toBeGreaterThan(5.4);
    for (const guard of [0, 0.83, 1]) expect(judge(drifted, {}, guard).verdict).toBe('hold');
  });

  it('agreed factors forgive lightness', () => {
    const factors = { kL: 3, kC: 1, kH: 1 };
    expect(judge({ ...blue, L: 45 }).verdict).toBe('hold');
    expect(judge({ ...blue, L: 45 }, { factors }).verdict).toBe('pass');
  });
});

describe('between a light and a dark end', () => {
  const ends = {
    from: 'ends',
    tolerance: 2,
    light: { L: 46, a: 7, b: -29 },
    dark: { L: 37, a: 9, b: -31 },
  } as const;

  it('every colour on the line is as agreed, on both sides of the target', () => {
    for (const reading of [
      ends.light,
      { L: 43, a: 7.5, b: -29.5 },
      blue,
      { L: 38.5, a: 8.5, b: -30.5 },
      ends.dark,
    ])
      expect(judge(reading, ends)).toMatchObject({ verdict: 'pass', deltaE: expect.closeTo(0, 6) as number });
  });

  it('beyond an end the difference is that from the end', () => {
    const lighter = { L: 50, a: 7, b: -29 };
    expect(judge(lighter, ends).deltaE).toBeCloseTo(deltaE2000(ends.light, lighter), 6);
    expect(judge(lighter, ends).verdict).toBe('hold');
    expect(judge(lighter, ends).dL).toBe(10);
  });

  it('beside the line it does not help that a colour is between the ends', () => {
    expect(judge({ L: 43, a: 16, b: -25 }, ends).verdict).toBe('hold');
  });

  it('a side without an end stops at the target', () => {
    expect(judge(ends.dark, { ...ends, dark: null }).deltaE).toBeCloseTo(deltaE2000(blue, ends.dark), 6);
  });

  it('ends that nobody gave are refused, never passed', () => {
    expect(() => judge(blue, { ...ends, light: null, dark: null })).toThrow(
      expect.objectContaining({ argument: 'agreed.from', code: 'impossible' }),
    );
  });
});

describe('properties', () => {
  const anyLab = fc.record({
    L: fc.double({ min: 0, max: 100, noNaN: true }),
    a: fc.double({ min: -100, max: 100, noNaN: true }),
    b: fc.double({ min: -100, max: 100, noNaN: true }),
  });

  it('a pass is within the limit with the whole uncertainty, a hold is beyond the limit', () => {
    fc.assert(
      fc.property(
        anyLab,
        anyLab,
        fc.double({ min: 0.5, max: 50, noNaN: true }),
        (target, reading, tolerance) => {
          const judged = judge(reading, { target, tolerance });
          expect(judged.deltaE).toBeCloseTo(deltaE2000(target, reading), 12);
          if (judged.verdict === 'pass') expect(judged.deltaE + 0.5).toBeLessThanOrEqual(tolerance + 1e-9);
          expect(judged.verdict === 'hold').toBe(judged.deltaE > tolerance);
        },
      ),
    );
  });
});

describe('refusals', () => {
  it.each([
    [{ ...blue, L: 402 }, {}, 'reading.L', 'out-of-range'],
    [{ ...blue, b: NaN }, {}, 'reading.b', 'not-finite'],
    [blue, { target: { ...blue, a: 250 } }, 'agreed.target.a', 'out-of-range'],
    [blue, { tolerance: 0 }, 'agreed.tolerance', 'out-of-range'],
    [blue, { tolerance: NaN }, 'agreed.tolerance', 'not-finite'],
  ])('%o %o', (reading, agreed, ...fault) => {
    const [argument, code] = fault;
    expect(() => judge(reading, agreed)).toThrow(expect.objectContaining({ argument, code }));
  });
});
