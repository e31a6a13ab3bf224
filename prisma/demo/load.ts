import { sql, type Db } from '../../apps/api/src/db/client.ts';
import { openStory, pastTheRules } from './backdate.ts';
import { chanceFrom } from './chance.ts';
import { tryCoupons } from './coupons.ts';
import { winCustomers } from './customers.ts';
import { equip } from './equipment.ts';
import { DAY } from './job.ts';
import { runJob } from './job-quotation.ts';
import { planJobs } from './jobs.ts';
import { keepBaths } from './lab-weeks.ts';
import { addParts } from './parts.ts';
import { hirePeople, type DemoPerson } from './people.ts';
import { writeRecipes } from './recipes.ts';

export type { DemoPerson };

/** How long ago the first job came in; the shop opened some days before. */
const firstJobDaysAgo = 92;

/**
 * Fills an empty database with the invented shop and three months of its work, through the use cases that serve real
 * people, so that every record has its history; returns who can sign in.
 */
export async function loadDemo(
  db: Db,
  { log }: { log: (line: string) => void },
): Promise<{ people: DemoPerson[] }> {
  const chance = chanceFrom(4070);
  const opened = Date.now() - (firstJobDaysAgo + 5) * DAY;
  const story = openStory(db);
  log('people');
  const { people, actors } = await hirePeople(db, { story, since: opened });
  log('tanks, supplies, racks, rates');
  const equipment = await equip(db, { actors, story, since: opened + DAY });
  log('coupons, recipes, customers, parts');
  await tryCoupons(db, { actors, story, since: opened + 1.2 * DAY });
  const recipes = await writeRecipes(db, { actors, story, since: opened + 2 * DAY });
  const customerIds = await winCustomers(db, { actors, story, since: opened + 3 * DAY });
  const parts = await addParts(db, { actors, story, since: opened + 3.5 * DAY, customerIds });

  const jobs = planJobs({ parts, recipes, equipment, chance, firstDaysAgo: firstJobDaysAgo });
  log(`${jobs.length} jobs of three months`);
  for (const job of jobs) await runJob({ db, actors, equipment, chance, story }, job);
  log('history');
  await story.settle();
  log('three months of the wet lab');
  await keepBaths(db, { actors, story, chance, equipment, since: opened + 4 * DAY });
  await dateOffers(db);
  return { people };
}

const validDays = 30;
/** An offer holds for so long from the day it was sent. Nobody could send one that is over already, so it is said late. */
const dateOffers = (db: Db): Promise<void> =>
  pastTheRules(db, (run) =>
    run(sql`
      update "quotation_revision" set "validUntil" = coalesce("sentAt", "createdAt")::date + ${validDays}::int`),
  );
