import { filmColour } from '@huelot/calc';
import { describe, expect, it } from 'vitest';
import { filmsLike, modelOf, nearestOf, pathOf, systemOf } from './model-colour.ts';

const steel = systemOf('steel');
if (steel === null) throw new Error('no constants of steel');

describe('the model of a porous film', () => {
  it('is Bruggeman’s, as calc has it: 30 % voids in magnetite on iron', () => {
    const model = modelOf(steel, { film: 'Fe3O4_Querry1985', porosity: 0.3 });
    const { lab } = filmColour({ system: 'steel', thicknessNm: 60, voidFraction: 0.3 });
    expect(model.labAt(60).L).toBeCloseTo(lab.L, 8);
    expect(model.labAt(60).b).toBeCloseTo(lab.b, 8);
  });
  it('finds the thickness again that a colour was made with', () => {
    const model = modelOf(steel, { film: 'Fe3O4_estimate', porosity: 0.4 });
    const best = nearestOf(pathOf(model, { to: 200, read: model.labAt(64) }));
    expect(best?.thicknessNm).toBe(64);
    expect(best?.deltaE).toBeCloseTo(0, 6);
  });
  it('offers other published constants of the same film, and none of a metal without any', () => {
    expect(filmsLike(steel)).toEqual(expect.arrayContaining(['Fe3O4_estimate', 'Fe3O4_Querry1985']));
    expect(systemOf('aluminium')).toBeNull();
  });
});
