import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../reference/optics/seeded.ts';
import { simulatedCoupons } from '../../../reference/optics/simulated-series.ts';
import { couponsAt, growth, labAt, regime } from '../../../reference/optics/titanium-growth.ts';
import { deltaE2000 } from '../../colour/index.ts';
import { filmModel } from '../film-model.ts';
import { titaniumSystem } from '../systems.ts';
import { fitFilmGrowth } from './fit-film-growth.ts';
import type { FilmGrowth } from './growth.ts';
import { matchColour } from './match-colour.ts';
import { nominalGrowth } from './nominal-growth.ts';
import { thicknessFromVoltage } from './thickness-from-voltage.ts';
import { voltageWindow } from './voltage-window.ts';

const anyVoltage = fc.double({ min: 10, max: 100, noNaN: true });

describe('matchColour', () => {
  it('finds the voltage of any colour the film can have', () => {
    fc.assert(
      fc.property(anyVoltage, (voltageV) => {
        const { candidates } = matchColour({ target: labAt(voltageV), growth, coupons: [] });
        const found = candidates.find((candidate) => Math.abs(candidate.voltageV - voltageV) < 0.02);
        expect(found?.deltaE).toBeLessThan(0.1);
        expect(found?.passes).toBe(true);
      }),
    );
  });

  it('proposes nothing outside the coupons, whatever the target', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 95, noNaN: true }),
        fc.double({ min: -60, max: 60, noNaN: true }),
        fc.double({ min: -60, max: 60, noNaN: true }),
        (L, a, b) => {
          for (const candidate of matchColour({ target: { L, a, b }, growth, coupons: [] }).candidates) {
            expect(candidate.voltageV).toBeGreaterThanOrEqual(10);
            expect(candidate.voltageV).toBeLessThanOrEqual(100);
            for (const twin of candidate.twins) {
              expect(twin.voltageV).toBeGreaterThanOrEqual(10);
              expect(twin.voltageV).toBeLessThanOrEqual(100);
            }
          }
        },
      ),
    );
  });

  it('gives every voltage that passes, several of one order too, and of the others the best of its order', () => {
    const target = { L: 50, a: 0, b: 0 };
    const voltages = (toleranceDeltaE: number) =>
      matchColour({ target, growth, coupons: [], toleranceDeltaE })
        .candidates.filter(({ order }) => order === 1)
        .map(({ voltageV }) => Number(voltageV.toFixed(1)));
    expect(voltages(30)).toEqual([10, 14.4, 24.7]);
    expect(voltages(22)).toEqual([14.4, 24.7]);
    expect(voltages(1)).toEqual([24.7]);
  });

  it('refuses other constants than the growth was fitted with, of the film or of the metal', () => {
    const target = labAt(30);
    for (const system of [
      { film: 'TiO2_Siefke2016', substrate: 'Ti_Johnson1974' },
      { film: 'TiO2_Franta2015', substrate: 'Ti_Palm2018' },
    ] as const)
      expect(() => matchColour({ target, growth, coupons: [], system })).toThrow(
        expect.objectContaining({ argument: 'system', code: 'impossible' }),
      );
    expect(matchColour({ target, growth, coupons: [], system: 'titanium' }).candidates).not.toEqual([]);
  });

  it('gives blue in its first and second order, the second less alike and steeper', () => {
    const { candidates, flags } = matchColour({ target: labAt(21.8), growth, coupons: [] });
    const [first, second] = candidates.filter(({ order }) => order <= 2);
    expect(first).toMatchObject({ order: 1, passes: true });
    expect(first?.voltageV).toBeCloseTo(21.8, 2);
    expect(second).toMatchObject({ order: 2, passes: false });
    expect(second?.voltageV).toBeCloseTo(75.4, 0);
    expect(flags).toEqual([]);
    expect(candidates.map(({ voltageV }) => voltageV)).toEqual(
      candidates.map(({ voltageV }) => voltageV).toSorted((a, b) => a - b),
    );
  });

  it('steepness is the change of colour in a volt', () => {
    const [candidate] = matchColour({ target: labAt(21.8), growth, coupons: [] }).candidates;
    const perVolt = deltaE2000(labAt(21.8 - 0.05), labAt(21.8 + 0.05)) / 0.1;
    expect(candidate?.steepnessDeltaEPerV).toBeCloseTo(perVolt, 1);
    expect(perVolt).toBeGreaterThan(4);
  });

  it('warns of the twin: titanium is as yellow near 100 V as near 50 V', () => {
    const longer = { ...growth, highestVoltageV: 110 };
    const yellowWith = (toleranceDeltaE: number) =>
      matchColour({ target: labAt(50), growth: longer, coupons: [], toleranceDeltaE }).candidates[0];
    expect(yellowWith(3)).toMatchObject({ order: 1, passes: true });
    expect(yellowWith(3)?.twins).toHaveLength(1);
    const [twin] = yellowWith(3)?.twins ?? [];
    expect(twin).toMatchObject({ order: 2 });
    expect(twin?.voltageV).toBeCloseTo(100.7, 0);
    expect(twin?.deltaE).toBeCloseTo(deltaE2000(labAt(50), labAt(twin?.voltageV ?? NaN, longer)), 2);
    expect(yellowWith(1)?.twins).toEqual([]);
  });

  it('says whether measured coupons stand on both sides, how near they are and what they showed', () => {
    const target = labAt(24);
    const match = (volts: number[], withinVolts?: number) =>
      matchColour({ target, growth, coupons: couponsAt(...volts), ...(withinVolts && { withinVolts }) })
        .candidates[0];
    expect(match([10, 20, 28, 40])).toMatchObject({
      bracketed: true,
      below: { voltageV: 20 },
      above: { voltageV: 28 },
    });
    expect(match([10, 20, 28, 40])?.below?.deltaE).toBeCloseTo(deltaE2000(target, labAt(20)), 9);
    expect(match([10, 20, 40])?.bracketed).toBe(false);
    expect(match([10, 20, 40], 20)?.bracketed).toBe(true);
    expect(match([10, 20])).toMatchObject({ bracketed: false, above: null });
    expect(match([30])).toMatchObject({ bracketed: false, below: null });
    expect(match([])).toMatchObject({ bracketed: false, below: null, above: null });
  });

  it('says when the colour was still coming nearer where the coupons end', () => {
    const short = { ...growth, highestVoltageV: 20 };
    const { candidates, flags } = matchColour({ target: labAt(21.8), growth: short, coupons: [] });
    expect(candidates.at(-1)).toMatchObject({ voltageV: 20, atRangeEnd: true, passes: false });
    expect(flags.join()).toMatch(/no voltage between 10 and 20 V/);
  });

  it('says when a screen cannot show the colour', () => {
    const niobium = { ...nominalGrowth({ system: 'niobium' }), highestVoltageV: 100 };
    const inGamut = Array.from({ length: 90 }, (_, i) => labAt(10 + i, niobium)).flatMap((target) =>
      matchColour({ target, growth: niobium, coupons: [] }).candidates.map((candidate) => candidate.inGamut),
    );
    expect(new Set(inGamut)).toEqual(new Set([true, false]));
  });

  it('a law from the literature, or one that misses its own coupons, is never passed off as a calibration', () => {
    const target = labAt(30);
    const flagsWith = (law: FilmGrowth) => matchColour({ target, growth: law, coupons: [] }).flags.join();
    expect(flagsWith(nominalGrowth({ system: 'titanium' }))).toMatch(/published ratio/);
    expect(flagsWith({ ...growth, residualDeltaE: 4.2 })).toMatch(/wrong constants or surface.*4.2 dE00/);
    expect(flagsWith(growth)).toBe('');
    expect(
      voltageWindow({
        target,
        toleranceDeltaE: 3,
        growth: nominalGrowth({ system: 'titanium' }),
      }).flags.join(),
    ).toMatch(/published ratio/);
  });

  it('zirconium says of itself that its shades are found by trial', () => {
    const zirconium = nominalGrowth({ system: 'zirconium' });
    const target = labAt(20, zirconium);
    expect(matchColour({ target, growth: zirconium, coupons: [] }).flags.join()).toMatch(/by trial/);
    expect(thicknessFromVoltage({ growth: zirconium, voltageV: 20 }).flags.join()).toMatch(/by trial/);
    expect(voltageWindow({ target, toleranceDeltaE: 3, growth: zirconium }).flags.join()).toMatch(/by trial/);
  });

  it('a calibration holds only with the constants it was fitted with', () => {
    const target = labAt(30);
    expect(matchColour({ target, growth, coupons: [], system: 'titanium' }).candidates).not.toEqual([]);
    const other = { film: 'TiO2_Siefke2016', substrate: 'Ti_Johnson1974' } as const;
    expect(() => matchColour({ target, growth, coupons: [], system: other })).toThrow(
      expect.objectContaining({ argument: 'system', code: 'impossible' }),
    );
  });

  it('carries the uncertainty of the fit to the voltage', () => {
    const coupons = simulatedCoupons({
      model: filmModel(titaniumSystem),
      growth: { offsetNm: 3, slopeNmPerV: 2.1, curvatureNmPerV2: 0 },
      voltagesV: [10, 20, 30, 40, 50, 65, 80, 100],
      random: seeded(11),
    });
    const fit = fitFilmGrowth({ coupons, system: 'titanium', regime });
    const { candidates } = matchColour({ target: labAt(24), growth: fit.growth, coupons });
    const { uncertaintyV, voltageV } = candidates[0] ?? {};
    expect(uncertaintyV).toBeGreaterThan(0.01);
    expect(uncertaintyV).toBeLessThan(1);
    const { intervalNm } = thicknessFromVoltage({ growth: fit.growth, voltageV: voltageV ?? NaN });
    const halfNm = ((intervalNm?.high ?? NaN) - (intervalNm?.low ?? NaN)) / 2;
    expect(uncertaintyV).toBeCloseTo(halfNm / fit.growth.slopeNmPerV, 9);
    expect(matchColour({ target: labAt(24), growth, coupons }).candidates[0]?.uncertaintyV).toBeNull();
  });

  it.each([
    [{ target: { L: 120, a: 0, b: 0 } }, 'target.L', 'out-of-range'],
    [{ target: { L: 50, a: NaN, b: 0 } }, 'target.a', 'not-finite'],
    [{ toleranceDeltaE: 0 }, 'toleranceDeltaE', 'out-of-range'],
    [{ withinVolts: -1 }, 'withinVolts', 'out-of-range'],
    [{ coupons: [{ voltageV: NaN, lab: { L: 50, a: 0, b: 0 } }] }, 'coupons[0].voltageV', 'not-finite'],
  ])('refuses %o', (change, argument, code) => {
    const given = { target: { L: 50, a: 0, b: 0 }, growth, coupons: [] };
    expect(() => matchColour({ ...given, ...change })).toThrow(expect.objectContaining({ argument, code }));
  });
});
