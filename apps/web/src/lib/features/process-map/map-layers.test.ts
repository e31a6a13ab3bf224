import { describe, expect, it } from 'vitest';
import { cellColour, type MapCell, rangeOf } from './map-layers.ts';

const cell = (column: number, thicknessNm: number | null, standardUncertaintyNm = 5) =>
  ({
    ...{
      column,
      row: 0,
      class: 'interference',
      probabilities: { interference: 1 },
      lab: null,
      protects: null,
    },
    currentDensityAPerM2: null,
    thickness: thicknessNm === null ? null : { thicknessNm, standardUncertaintyNm, measured: 1 },
  }) as unknown as MapCell;

describe('the layer of film thickness', () => {
  const cells = [cell(0, null), cell(1, 60), cell(2, 2000)];
  const range = rangeOf(cells, 'thickness');

  it('runs from nothing to the thickest film, and leaves hatched where nobody measured', () => {
    expect(range).toEqual({ low: 0, high: 2000 });
    const painted = cells.map((one) => cellColour(one, { layer: 'thickness', range }));
    expect(painted[0]).toBeNull();
    expect(painted[1]).not.toBe(painted[2]);
  });
  it('is half hatched where a thickness is known no better than a fifth', () => {
    const vague = [cell(0, 60, 20), cell(1, 60, 20)];
    const [even, odd] = vague.map((one) => cellColour(one, { layer: 'thickness', range }));
    expect(even).toBeNull();
    expect(odd).not.toBeNull();
    expect(cellColour(cell(0, 60, 10), { layer: 'thickness', range })).not.toBeNull();
  });
  it('is none where no film was measured', () => {
    expect(rangeOf([cell(0, null)], 'thickness')).toBeNull();
  });
});
