import { describe, expect, it } from 'vitest';
import { oxideThickness } from '../electro/oxide-thickness.ts';
import { combineThicknesses } from './combine-thicknesses.ts';
import { type FilmEvidence, filmResult } from './film-evidence.ts';
import { filmFromMass, type StrippedFilm } from './film-from-mass.ts';
import type { StatedUncertainty } from './stated-uncertainty.ts';
import { normalisedError } from './normalised-error.ts';
import { thicknessDoubts } from './thickness-doubts.ts';

const stripped = (extra: Partial<StrippedFilm> = {}): StrippedFilm => ({
  ...{ massBeforeG: 12.00517, massesAfterG: [12.00005, 12], weighingUncertaintyG: 0.00005, blankLossG: 0 },
  ...{ areaMm2: 5000, areaUncertaintyMm2: 50, densityKgPerM3: 5170, densityUncertaintyKgPerM3: 100 },
  ...{ porosity: 0, porosityUncertainty: 0 },
  ...extra,
});

describe('thickness by stripping', () => {
  it('is 200 nm of magnetite at 1.034 g/m², hand-worked', () => {
    const film = filmFromMass(stripped());
    expect(film.massPerAreaGPerM2).toBeCloseTo(1.034, 10);
    expect(film.thicknessNm).toBeCloseTo(200, 8);
    const [weighing, area, density] = [(Math.SQRT2 * 0.00005) / 0.00517, 0.01, 100 / 5170];
    expect(film.standardUncertaintyNm).toBeCloseTo(200 * Math.hypot(weighing, area, density), 8);
    expect(film.massPerAreaUncertaintyGPerM2).toBeCloseTo(1.034 * Math.hypot(weighing, area), 10);
  });

  it('is the film that Faraday’s law makes of the same charge', () => {
    const { thicknessNm } = oxideThickness({ chargeCPerM2: 10_000, oxide: 'Fe3O4', efficiency: 1 });
    // Fe3O4: 231.533 g/mol by 8 electrons.
    const massG = ((231.533 * 10_000) / (8 * 96_485.33212)) * 0.005;
    const film = filmFromMass(stripped({ massBeforeG: 12 + massG, massesAfterG: [12, 12] }));
    expect(film.thicknessNm / thicknessNm).toBeCloseTo(1, 5);
  });

  it('grows with the porosity that it is shared out over, and so does its uncertainty', () => {
    const porous = filmFromMass(stripped({ porosity: 0.3, porosityUncertainty: 0.07 }));
    expect(porous.thicknessNm).toBeCloseTo(200 / 0.7, 8);
    const part = porous.contributions.find(({ source }) => source.startsWith('porosity'));
    expect(part?.standardUncertainty).toBeCloseTo((200 / 0.7) * (0.07 / 0.7), 8);
  });

  it('takes off what a bare piece loses', () => {
    expect(filmFromMass(stripped({ blankLossG: 0.00117 })).filmMassG).toBeCloseTo(0.004, 10);
    expect(() => filmFromMass(stripped({ blankLossG: 0.006 }))).toThrow('bare piece');
  });

  it('is refused where the piece got heavier, and for grams as milligrams', () => {
    expect(() => filmFromMass(stripped({ massesAfterG: [12.1] }))).toThrow('massesAfterG[0]');
    expect(() => filmFromMass(stripped({ massesAfterG: [12.00517] }))).toThrow('massesAfterG[0]');
    expect(() => filmFromMass(stripped({ massBeforeG: 1_200_517 }))).toThrow('massBeforeG');
    expect(() => filmFromMass(stripped({ porosity: 30 }))).toThrow('porosity');
  });

  it.each([
    [[12], 'constant mass was not shown'],
    [[12.001, 12], 'still falls'],
    [[11.9995, 12], 'was the piece dry'],
    [[12.0051, 12.0051], 'no more than the uncertainty'],
  ])('says of %j that %s', (massesAfterG, words) => {
    expect(filmFromMass(stripped({ massesAfterG })).flags.join()).toContain(words);
  });
});

describe('agreement of two methods', () => {
  it.each([
    [220, 'agree'],
    [222, 'doubtful'],
    [240, 'disagree'],
    [160, 'disagree'],
  ])('%d nm and 200 nm, 8 and 6 of standard uncertainty: %s', (value, agreement) => {
    const found = normalisedError({
      one: { value, standardUncertainty: 8 },
      other: { value: 200, standardUncertainty: 6 },
    });
    expect(found.agreement).toBe(agreement);
    // ISO 13528: En with k = 2 is half the zeta score.
    expect(found.normalisedError).toBeCloseTo((value - 200) / Math.hypot(2 * 8, 2 * 6), 12);
  });
  it('is none of two figures without uncertainty', () => {
    const one = { value: 1, standardUncertainty: 0 };
    expect(() => normalisedError({ one, other: one })).toThrow('standardUncertainty');
  });
});

describe('doubts about a thickness', () => {
  it.each([
    [200, [], 0],
    [0.2, [], 1],
    [200_000, [], 1],
    [80_000, [82], 1],
    [0.08, [82], 2],
    [90, [82, 1200], 0],
  ])('%d nm beside %j: %d', (thicknessNm, othersNm, count) => {
    expect(thicknessDoubts({ thicknessNm, othersNm })).toHaveLength(count);
  });
});

describe('one thickness of several methods', () => {
  it('is what each knows: 100 ± 1 and 110 ± 3 give 101, and a spread that no claim covers widens it', () => {
    const both = combineThicknesses({
      figures: [
        { thicknessNm: 100, standardUncertaintyNm: 1 },
        { thicknessNm: 110, standardUncertaintyNm: 3 },
      ],
    });
    expect(both.thicknessNm).toBeCloseTo(101, 10);
    expect(both.birgeRatio).toBeCloseTo(Math.sqrt(1 + 81 / 9), 10);
    expect(both.standardUncertaintyNm).toBeCloseTo(Math.sqrt(0.9 * 10), 10);
  });
  it('is that of the only one, and never surer because two happen to meet', () => {
    const figure = { thicknessNm: 100, standardUncertaintyNm: 5 };
    expect(combineThicknesses({ figures: [figure] })).toEqual({ ...figure, birgeRatio: null });
    expect(combineThicknesses({ figures: [figure, figure] }).standardUncertaintyNm).toBeCloseTo(
      5 / Math.SQRT2,
      10,
    );
  });
});

describe('evidence as it was stated', () => {
  const standard = (value: number) => ({ value, coverageFactor: null });
  const expanded = (value: number) => ({ value: 2 * value, coverageFactor: 2 });
  const evidence = (
    stated: (value: number) => StatedUncertainty,
  ): Extract<FilmEvidence, { kind: 'coating-mass' }> => ({
    kind: 'coating-mass',
    ...{ massBeforeG: 12.00517, massesAfterG: [12], blankLossG: 0, areaMm2: 5000 },
    ...{ densityKgPerM3: 5170, porosity: 0.2, weighingUncertaintyG: stated(0.00005) },
    ...{ areaUncertaintyMm2: stated(50), densityUncertaintyKgPerM3: stated(60) },
    porosityUncertainty: stated(0.05),
  });

  it('gives the same of standard uncertainties and of twice as large ones with k = 2', () => {
    expect(filmResult(evidence(expanded))).toEqual(filmResult(evidence(standard)));
  });
  it('is refused by the name of its figure for a factor that is none', () => {
    const slipped = { ...evidence(standard), areaUncertaintyMm2: { value: 50, coverageFactor: 0.5 } };
    expect(() => filmResult(slipped)).toThrow('areaUncertaintyMm2.coverageFactor');
  });
});
