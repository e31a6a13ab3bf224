import { type FilmModel, filmModel } from './film-model.ts';
import type { FilmSystem } from './systems.ts';

interface ModelOf extends FilmSystem {
  angleDeg: number;
  voidFraction: number;
}

const MOST_KEPT = 32;
let kept: (ModelOf & { model: FilmModel })[] = [];

/**
 * {@link filmModel}, kept by what it was made from: a slider asks for the same film a hundred times a second.
 */
export function modelOf({ film, substrate, angleDeg, voidFraction }: ModelOf): FilmModel {
  const known = kept.find(
    (made) =>
      made.film === film &&
      made.substrate === substrate &&
      made.angleDeg === angleDeg &&
      made.voidFraction === voidFraction,
  );
  if (known) return known.model;
  const model = filmModel({ film, substrate, angleDeg, voidFraction });
  kept = [{ film, substrate, angleDeg, voidFraction, model }, ...kept.slice(0, MOST_KEPT - 1)];
  return model;
}
