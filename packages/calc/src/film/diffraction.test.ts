import { describe, expect, it } from 'vitest';
import type { PhaseName } from './data/phases.ts';
import { type Diffraction, diffractionPhases } from './diffraction-phases.ts';
import { phaseLines } from './phase-lines.ts';

describe('lines of phases', () => {
  it.each<[PhaseName, string, number]>([
    ['magnetite', '311', 2.532],
    ['magnetite', '220', 2.967],
    ['magnetite', '440', 1.485],
    ['hematite', '104', 2.7],
    ['hematite', '110', 2.519],
    ['hematite', '012', 3.684],
    ['ferrite', '110', 2.0268],
    ['ferrite', '211', 1.1702],
    ['wuestite', '200', 2.153],
    ['goethite', '110', 4.183],
    ['goethite', '130', 2.693],
    ['anatase', '101', 3.52],
    ['rutile', '110', 3.247],
    ['titanium', '101', 2.243],
    ['titanium', '002', 2.342],
  ])('%s %s lies at the spacing of its powder diffraction card (from memory)', (phase, hkl, spacing) => {
    const line = phaseLines({ phase, radiation: 'Cu-Ka' }).find((one) => one.hkl === hkl);
    expect(Math.abs((line?.spacingA ?? 0) - spacing)).toBeLessThan(0.0045);
  });

  it('of iron with copper radiation is at 44.67°, with cobalt at 52.38° (handbooks, from memory)', () => {
    expect(phaseLines({ phase: 'ferrite', radiation: 'Cu-Ka' })[0]?.twoThetaDeg).toBeCloseTo(44.67, 1);
    expect(phaseLines({ phase: 'ferrite', radiation: 'Co-Ka' })[0]?.twoThetaDeg).toBeCloseTo(52.38, 1);
  });
});

const peak = (phase: PhaseName, twoThetaDeg: number, intensity: number) => ({
  ...{ phase, twoThetaDeg, intensity, intensityUncertainty: 0.1 * intensity },
});
const pattern = (extra: Partial<Diffraction> = {}): Diffraction => ({
  radiation: 'Cu-Ka',
  peaks: [peak('magnetite', 35.4, 600), peak('magnetite', 62.6, 240), peak('ferrite', 44.7, 1160)],
  referenceRatios: {},
  ...extra,
});

describe('phases by diffraction', () => {
  it('are shares of intensity, and no amounts where nobody gave a ratio', () => {
    const { phases, flags } = diffractionPhases(pattern());
    expect(phases.map(({ phase, intensityShare, massShare }) => [phase, intensityShare, massShare])).toEqual([
      ['ferrite', expect.closeTo(0.58, 10), null],
      ['magnetite', expect.closeTo(0.42, 10), null],
    ]);
    expect(flags.join()).toContain('maghemite');
  });

  it('are masses by Chung’s adiabatic principle where ratios are given: (I/RIR) over their sum, hand-worked', () => {
    const peaks = [peak('magnetite', 35.4, 490), peak('hematite', 33.15, 120)];
    const { phases } = diffractionPhases(
      pattern({ peaks, referenceRatios: { magnetite: 4.9, hematite: 2.4 } }),
    );
    expect(phases.find(({ phase }) => phase === 'magnetite')?.massShare).toBeCloseTo(100 / 150, 10);
    expect(phases.reduce((sum, { massShare }) => sum + (massShare ?? 0), 0)).toBeCloseTo(1, 12);
  });

  it('have shares whose uncertainties meet a hand-worked pair: 0.1 of each at 0.42 and 0.58', () => {
    const { phases } = diffractionPhases(pattern());
    const magnetite = Math.hypot(60, 24);
    const expected = Math.hypot(0.58 * magnetite, 0.42 * 116) / 2000;
    for (const { intensityShareUncertainty } of phases)
      expect(intensityShareUncertainty).toBeCloseTo(expected, 10);
  });

  it('tell a peak that is no line of its phase, as cobalt read as copper', () => {
    expect(diffractionPhases(pattern({ radiation: 'Co-Ka' })).flags.join()).toContain(
      'no strong line of magnetite',
    );
  });

  it('are refused for no peak, a height of nothing, a ratio of a phase that is not there', () => {
    expect(() => diffractionPhases(pattern({ peaks: [] }))).toThrow('peaks.length');
    expect(() => diffractionPhases(pattern({ peaks: [peak('ferrite', 44.7, 0)] }))).toThrow(
      'peaks[0].intensity',
    );
    expect(() => diffractionPhases(pattern({ referenceRatios: { goethite: 2.7 } }))).toThrow(
      'referenceRatios.goethite',
    );
    expect(() => diffractionPhases(pattern({ radiation: 'Ag-Ka' as 'Cu-Ka' }))).toThrow('radiation');
  });
});
