import type { CouponFilm } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { emptyFilm, evidenceOf, massesOf } from './film-form.ts';
import { resultWords, spanText, thicknessText } from './film-words.ts';
import { comparisons, thicknessRows } from './thickness-rows.ts';

const measured = (id: number, thicknessNm: number, isOfAnother = false) =>
  ({
    ...{ id, number: `FM-${id}`, isOfAnother },
    result: {
      ...{ kind: 'coating-mass', thicknessNm, standardUncertaintyNm: 10 },
      intervalNm: { low: thicknessNm - 20, high: thicknessNm + 20 },
    },
  }) as unknown as CouponFilm['measurements'][number];
const optical = {
  ...{ thicknessNm: 80, standardUncertaintyNm: 1, intervalNm: { low: 78, high: 82 } },
  calibration: { id: 4, code: 'TI-1', revision: 1 },
};

describe('thickness by each method', () => {
  it('leaves out what was measured of another piece, and puts the optical one last', () => {
    const rows = thicknessRows({ measurements: [measured(1, 90), measured(2, 400, true)], optical });
    expect(rows.map(({ name }) => name)).toEqual(['FM-1, coating mass', 'TI-1, by colour and voltage']);
  });

  it('is judged two by two: 10 nm apart by 10.05 agree, 310 do not', () => {
    const rows = thicknessRows({ measurements: [measured(1, 90), measured(2, 390)], optical });
    expect(comparisons(rows).map(({ one, agreement }) => [one.name, agreement])).toEqual([
      ['FM-1, coating mass', 'disagree'],
      ['FM-1, coating mass', 'agree'],
      ['FM-2, coating mass', 'disagree'],
    ]);
  });

  it('is said in nanometres below a micrometre', () => {
    expect([204.4, 999, 2004].map(thicknessText)).toEqual(['204 nm', '999 nm', '2.00 µm']);
    expect(spanText({ thicknessNm: 1884, standardUncertaintyNm: 28 })).toBe('1.88 ± 0.056 µm');
    expect(resultWords(measured(1, 90).result)).toContain('standard uncertainty 10 nm');
  });
});

describe('what is typed of a film', () => {
  const values = emptyFilm({ seriesId: 1, mark: 'A1', baseMetal: 'steel' }, 'coating-mass').evidence;
  it('reads masses line by line, and keeps the place of what is no number', () => {
    expect(massesOf('12.0003\n 12.0001 \n\n')).toEqual([12.0003, 12.0001]);
    expect(massesOf('12.0003\nabout 12')[1]).toBeNaN();
  });
  it('sends what its method has, and no ratio of a phase that nobody reads', () => {
    const evidence = evidenceOf({
      ...values,
      kind: 'diffraction',
      ratios: { magnetite: 4.9, goethite: 2.7 },
    });
    expect(evidence).toMatchObject({ kind: 'diffraction', referenceRatios: { magnetite: 4.9 } });
    expect(evidence).not.toHaveProperty('massBeforeG');
    expect(evidence).not.toHaveProperty('referenceRatios.goethite');
  });
});
