import type { Lab, Xyz } from '../colour/colour-types.ts';
import { xyzToLab } from '../colour/lab.ts';
import type { FilmModel } from './film-model.ts';

/** The colours a film runs through as it thickens. */
export interface ColourPath {
  labAt: (thicknessNm: number) => Lab;
}

/** Tabulated up to here; thicker films are computed one by one. */
const TABULATED_NM = 1500;

const paths = new WeakMap<FilmModel, ColourPath>();

/**
 * A model's colours read from a table by whole nanometres, filled as it is asked for, with a cubic between
 * entries: within 0.01 dE00 of the model, and some twenty times faster for searches. The table holds
 * tristimulus values, which are smooth where CIELAB has a kink (in the near-black).
 */
export function colourPathOf(model: FilmModel): ColourPath {
  const known = paths.get(model);
  if (known) return known;
  const path = colourPath(model);
  paths.set(model, path);
  return path;
}

function colourPath(model: FilmModel): ColourPath {
  const table: Xyz[] = [];
  const entry = (nm: number): Xyz => (table[nm] ??= model.xyzAt(nm));
  return {
    labAt(thicknessNm) {
      const below = Math.floor(thicknessNm);
      if (!(below >= 1 && below <= TABULATED_NM)) return model.labAt(thicknessNm);
      const t = thicknessNm - below;
      const [p, q, r, s] = [entry(below - 1), entry(below), entry(below + 1), entry(below + 2)];
      // Lagrange's cubic through the four entries around.
      const wp = (-t * (t - 1) * (t - 2)) / 6;
      const wq = ((t + 1) * (t - 1) * (t - 2)) / 2;
      const wr = (-(t + 1) * t * (t - 2)) / 2;
      const ws = ((t + 1) * t * (t - 1)) / 6;
      return xyzToLab(
        wp * p.X + wq * q.X + wr * r.X + ws * s.X,
        wp * p.Y + wq * q.Y + wr * r.Y + ws * s.Y,
        wp * p.Z + wq * q.Z + wr * r.Z + ws * s.Z,
      );
    },
  };
}
