import type { Db } from '../../apps/api/src/db/client.ts';
import { addStartingLibrary } from '../../apps/api/src/domains/materials/index.ts';
import { chanceFrom } from './chance.ts';
import { equip } from './equipment.ts';
import { bringGoods } from './goods.ts';
import { runJob, type Ending, type Job } from './history.ts';
import { hirePeople, type DemoPerson } from './people.ts';
import { writeRecipes, type RecipeKey } from './recipes.ts';

export type { DemoPerson };

const DAY = 24 * 3_600_000;
const MONTHS = 92;

/** How the jobs of the last days stand, so that every state is there to be seen. */
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

/** Fills an empty database with the invented shop and three months of its work; returns who can sign in. */
export async function loadDemo(
  db: Db,
  { log }: { log: (line: string) => void },
): Promise<{ people: DemoPerson[] }> {
  const chance = chanceFrom(4070);
  const since = new Date(Date.now() - (MONTHS + 5) * DAY);
  await db.prisma.shop.update({
    where: { id: 1 },
    data: {
      name: 'Brook Lane Colour Works',
      address: '4 Brook Lane\nMillbridge',
      contact: 'office@example.com',
      timeZone: 'Europe/Vienna',
      currency: 'EUR',
      terms: 'Payment within 30 days, ex works. Parts are insured while they are here.',
    },
  });
  log('people');
  const { people, actors } = await hirePeople(db);
  log('materials, tanks, supplies, racks, rates');
  await addStartingLibrary(db);
  const equipment = await equip(db, { ownerId: actors.olive.personId, labId: actors.lena.personId, since });
  log('recipes, customers, parts');
  const recipes = await writeRecipes(db, {
    authorId: actors.lena.personId,
    approverId: actors.quentin.personId,
    since,
  });
  const { parts } = await bringGoods(db, { estimatorId: actors.edgar.personId, since });

  const goodAt = (index: number) => parts[index % parts.length] as (typeof parts)[number];
  const on = (recipe: RecipeKey) =>
    recipe === 'red'
      ? { rackId: equipment.racks.aluminium, supplyId: equipment.supplies.anodize }
      : recipe === 'black' || recipe === 'peacock'
        ? { rackId: equipment.racks.steel, supplyId: equipment.supplies.caustic }
        : { rackId: equipment.racks.titanium, supplyId: equipment.supplies.valve };
  const job = (good: number, of: Pick<Job, 'daysAgo' | 'ending' | 'picked'>): Job => {
    const part = goodAt(good);
    const quantities =
      part.recipe === 'red' || part.recipe === 'black' || part.recipe === 'peacock'
        ? [12, 36, 96]
        : [24, 48, 96];
    return { part, recipeRevisionId: recipes[part.recipe], ...on(part.recipe), quantities, ...of };
  };
  const past = Array.from({ length: 26 }, (_, index) =>
    job(index, { daysAgo: MONTHS - index * 2.7, ending: 'shipped', picked: chance.happens(0.3) ? 1 : 0 }),
  );
  const jobs = [...past, ...recent.map(({ good, ...of }) => job(good, of))];
  log(`${jobs.length} jobs of three months`);
  for (const one of jobs) await runJob({ db, actors, equipment, chance }, one);
  return { people };
}
