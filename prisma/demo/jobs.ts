import type { Chance } from './chance.ts';
import type { Equipment } from './equipment.ts';
import type { Ending, Job } from './job.ts';
import type { DemoPart } from './parts.ts';
import type { RecipeKey } from './recipe-book.ts';

/** How the jobs of the last days stand, so that every state is there to be seen; `good` is a place in the list of parts. */
const recent: { daysAgo: number; ending: Ending; good: number; picked: number }[] = [
  { daysAgo: 0.2, ending: 'draft', good: 2, picked: 0 },
  { daysAgo: 1, ending: 'sent', good: 0, picked: 0 },
  { daysAgo: 26, ending: 'sent', good: 6, picked: 0 },
  { daysAgo: 44, ending: 'lapsed', good: 3, picked: 0 },
  { daysAgo: 20, ending: 'declined', good: 5, picked: 0 },
  { daysAgo: 4, ending: 'ordered', good: 1, picked: 0 },
  { daysAgo: 6, ending: 'received', good: 7, picked: 1 },
  { daysAgo: 7, ending: 'released', good: 0, picked: 1 },
  { daysAgo: 7.5, ending: 'running', good: 0, picked: 0 },
  { daysAgo: 8, ending: 'held', good: 4, picked: 0 },
  { daysAgo: 8.2, ending: 'running', good: 6, picked: 0 },
  { daysAgo: 9, ending: 'finished', good: 8, picked: 0 },
  { daysAgo: 11, ending: 'passed', good: 5, picked: 0 },
];

/** Jobs shipped one after the other since the first, and those of the last days. */
export function planJobs(of: {
  parts: readonly DemoPart[];
  recipes: Record<RecipeKey, number>;
  equipment: Equipment;
  chance: Chance;
  firstDaysAgo: number;
}): Job[] {
  const { parts, recipes, equipment, chance, firstDaysAgo } = of;
  const job = (good: number, how: Pick<Job, 'daysAgo' | 'ending' | 'picked'>): Job => {
    const part = parts[good % parts.length] as DemoPart;
    return { part, recipeRevisionId: recipes[part.recipe], ...lineFor(part.recipe, equipment), ...how };
  };
  const past = Array.from({ length: 26 }, (_, index) =>
    job(index, {
      daysAgo: firstDaysAgo - index * 2.7,
      ending: 'shipped',
      picked: chance.happens(0.3) ? 1 : 0,
    }),
  );
  return [...past, ...recent.map(({ good, ...how }) => job(good, how))];
}

/** Rack and supply of a recipe, and the quantities customers ask for. */
function lineFor(
  recipe: RecipeKey,
  { racks, supplies }: Equipment,
): Pick<Job, 'rackId' | 'supplyId' | 'quantities'> {
  if (recipe === 'red') {
    return { rackId: racks.aluminium, supplyId: supplies.anodize, quantities: [12, 36, 96] };
  }
  return recipe === 'black' || recipe === 'peacock'
    ? { rackId: racks.steel, supplyId: supplies.caustic, quantities: [12, 36, 96] }
    : { rackId: racks.titanium, supplyId: supplies.valve, quantities: [24, 48, 96] };
}
