import type { Random } from './chance.ts';
import type { Equipment } from './equipment.ts';
import type { JobStage, Job } from './job.ts';
import type { DemoPart } from './parts.ts';
import type { RecipeKey } from './recipe-book.ts';

/** How the jobs of the last days stand, so that every state is there to be seen; `good` is a place in the list of parts. */
const recent: { daysAgo: number; ending: JobStage; good: number; picked: number }[] = [
  { daysAgo: 0.2, ending: 'draft', good: 2, picked: 0 },
  { daysAgo: 1, ending: 'sent', good: 0, picked: 0 },
  { daysAgo: 26, ending: 'sent', good: 6, picked: 0 },
  { daysAgo: 44, ending: 'lapsed', good: 3, picked: 0 },
  { daysAgo: 20, ending: 'declined', good: 5, picked: 0 },
  { daysAgo: 4, ending: 'ordered', good: 1, picked: 0 },
  { daysAgo: 6, ending: 'received', good: 7, picked: 1 },
  { daysAgo: 6.6, ending: 'released', good: 8, picked: 2 },
  { daysAgo: 7, ending: 'released', good: 0, picked: 2 },
  { daysAgo: 7.5, ending: 'running', good: 0, picked: 0 },
  { daysAgo: 8, ending: 'held', good: 4, picked: 0 },
  { daysAgo: 8.2, ending: 'running', good: 6, picked: 0 },
  { daysAgo: 9, ending: 'finished', good: 8, picked: 0 },
  { daysAgo: 11, ending: 'passed', good: 5, picked: 0 },
];

/** Places in the list of parts: every part has its turn, and the large ones theirs often enough to wear the baths. */
const turns = [0, 9, 1, 10, 2, 3, 4, 9, 5, 10, 6, 11, 7, 8];
const pastJobs = 36;
/** The job whose colour came out beyond what was agreed; its part is agreed in figures. */
const drifted = 32;
/** From the first job to the first of those of the last days. */
const lastPastDaysAgo = 24;

/** Jobs shipped one after the other since the first, and those of the last days. */
export function planJobs({
  parts,
  recipes,
  equipment,
  chance,
  firstDaysAgo,
}: {
  parts: readonly DemoPart[];
  recipes: Record<RecipeKey, number>;
  equipment: Equipment;
  chance: Random;
  firstDaysAgo: number;
}): Job[] {
  const job = (good: number, options: Pick<Job, 'daysAgo' | 'ending' | 'picked' | 'drifts'>): Job => {
    const part = parts[good % parts.length] as DemoPart;
    return { part, recipeRevisionId: recipes[part.recipe], ...lineFor(part, equipment), ...options };
  };
  const past = Array.from({ length: pastJobs }, (_, index) =>
    job(turns[index % turns.length] ?? 0, {
      daysAgo: firstDaysAgo - (index * (firstDaysAgo - lastPastDaysAgo)) / (pastJobs - 1),
      ending: 'shipped',
      picked: chance.happens(0.3) ? 1 : 0,
      drifts: index === drifted,
    }),
  );
  return [...past, ...recent.map(({ good, ...how }) => job(good, how))];
}

/** A customer of another country asks: the offer waits for an answer, in the customer's currency. */
export function planForeignJob(options: {
  parts: readonly DemoPart[];
  recipes: Record<RecipeKey, number>;
  equipment: Equipment;
  exchangeRateId: number;
}): Job {
  const { parts, recipes, equipment, exchangeRateId } = options;
  const part = parts.at(-1) as DemoPart;
  return {
    ...{ part, recipeRevisionId: recipes[part.recipe], ...lineFor(part, equipment), exchangeRateId },
    ...{ daysAgo: foreignJobDaysAgo, ending: 'sent', picked: 0 },
  };
}
export const foreignJobDaysAgo = 3;

/** The answer to an enquiry: the draft for the first part of the customer that asked. */
export function planAnswer(options: {
  parts: readonly DemoPart[];
  recipes: Record<RecipeKey, number>;
  equipment: Equipment;
  customerId: number;
  enquiryId: number;
  daysAgo: number;
}): Job {
  const { parts, recipes, equipment, customerId, enquiryId, daysAgo } = options;
  const part = parts.find((one) => one.customerId === customerId) as DemoPart;
  return {
    ...{ part, recipeRevisionId: recipes[part.recipe], ...lineFor(part, equipment), enquiryId, daysAgo },
    ...{ ending: 'draft', picked: 0 },
  };
}

/** Rack and supply of a part, and the quantities customers ask for. */
function lineFor(
  { recipe, quantities }: DemoPart,
  { racks, supplies }: Equipment,
): Pick<Job, 'rackId' | 'supplyId' | 'quantities'> {
  const asked = (usual: readonly number[]) => ({ quantities: [...(quantities ?? usual)] });
  if (recipe === 'red') {
    return { rackId: racks.aluminium, supplyId: supplies.anodize, ...asked([12, 36, 96]) };
  }
  return recipe === 'black' || recipe === 'peacock'
    ? { rackId: racks.steel, supplyId: supplies.caustic, ...asked([12, 36, 96]) }
    : { rackId: racks.titanium, supplyId: supplies.valve, ...asked([24, 48, 96]) };
}
