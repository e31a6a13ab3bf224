import {
  deltaE2000,
  type ConstantSetName,
  constantSets,
  type FilmModel,
  filmModel,
  type FilmSystem,
  niobiumSystem,
  steelSystem,
  tantalumSystem,
  titaniumSystem,
  zirconiumSystem,
} from '@huelot/calc';
import type { BaseMetal, Lab } from '@huelot/contracts';

/** The constants of a metal and its film: those that a model of its colour begins with. */
const systems: Partial<Record<BaseMetal, FilmSystem>> = {
  // By its reflectance a polished magnetite absorbs more than the published table says.
  steel: { ...steelSystem, film: constantSets.Fe3O4_estimate },
  titanium: titaniumSystem,
  niobium: niobiumSystem,
  tantalum: tantalumSystem,
  zirconium: zirconiumSystem,
};
export const systemOf = (metal: BaseMetal): FilmSystem | null => systems[metal] ?? null;

/** Other published constants of the same film. */
export const filmsLike = ({ film }: FilmSystem): ConstantSetName[] =>
  (Object.keys(constantSets) as ConstantSetName[]).filter(
    (name) => constantSets[name].material === film.material,
  );

/** A film with pores by Bruggeman's effective medium, on its metal. */
export const modelOf = (
  { substrate }: FilmSystem,
  { film, porosity }: { film: ConstantSetName; porosity: number },
): FilmModel => filmModel({ film: constantSets[film], substrate, voidFraction: porosity });

export interface ModelPoint {
  thicknessNm: number;
  lab: Lab;
  deltaE: number;
}

/**
 * The colours of a film as it thickens, each with its distance from a colour that was read.
 *
 * @example
 * pathOf(model, { to: 200, read: lab }).length // 101
 */
export const pathOf = (model: FilmModel, { to, read }: { to: number; read: Lab }): ModelPoint[] =>
  Array.from({ length: 101 }, (_, index) => {
    const thicknessNm = (to * index) / 100;
    const lab = model.labAt(thicknessNm);
    return { thicknessNm, lab, deltaE: deltaE2000(lab, read) };
  });

export const nearestOf = (path: readonly ModelPoint[]): ModelPoint | null =>
  path.reduce<ModelPoint | null>(
    (best, one) => (best === null || one.deltaE < best.deltaE ? one : best),
    null,
  );
