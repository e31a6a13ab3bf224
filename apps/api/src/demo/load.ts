import { sql, type Db } from '../db/client.ts';
import { addExchangeRate } from '../catalog/rates/index.ts';
import { seedAssessments } from './assessments.ts';
import { createTimeline, withoutTriggers, type Timeline } from './backdate.ts';
import { seedCertificates } from './certificates.ts';
import { seededRandom } from './chance.ts';
import { seedCompetence } from './competence.ts';
import { seedCoupons } from './coupons.ts';
import { seedCustomers } from './customers.ts';
import { seedDeliveries } from './deliveries.ts';
import { seedEnquiries } from './enquiries.ts';
import { seedExposure } from './exposure.ts';
import { seedEquipment } from './equipment.ts';
import { failThermometer, seedInstruments } from './instruments.ts';
import { seedFilms } from './films.ts';
import { DAY } from './job.ts';
import { runJob } from './job-quotation.ts';
import { foreignJobDaysAgo, planForeignJob, planJobs } from './jobs.ts';
import { seedInspectionPlans } from './inspections.ts';
import { seedLabWeeks } from './lab-weeks.ts';
import { addParts } from './parts.ts';
import { seedStandards } from './standards.ts';
import { seedPeople, type Actors, type DemoPerson } from './people.ts';
import { seedNonconformances } from './nonconformances.ts';
import { seedInvoices } from './invoices.ts';
import { seedPolarization } from './polarization.ts';
import { seedRecipes } from './recipes.ts';
import { seedTrials } from './trials.ts';

export type { DemoPerson };

/** How long ago the first job came in; the shop opened some days before. */
const firstJobDaysAgo = 92;

/**
 * Fills an empty database with the invented shop and three months of its work, through the use cases that serve real
 * people, so that every record has its history; returns who can sign in.
 */
export async function loadDemo(
  db: Db,
  { log, publicUrl = 'http://localhost:4070' }: { log: (line: string) => void; publicUrl?: string },
): Promise<{ people: DemoPerson[] }> {
  const chance = seededRandom(4070);
  const opened = Date.now() - (firstJobDaysAgo + 5) * DAY;
  const story = createTimeline(db);
  log('people');
  const { people, actors } = await seedPeople(db, { story, since: opened });
  log('tanks, supplies, racks, rates');
  const equipment = await seedEquipment(db, { actors, story, since: opened + DAY });
  await seedCompetence({ db, actors, story }, { since: opened + 1.05 * DAY });
  const instrumentIds = await seedInstruments(
    { db, actors, story },
    { equipment, since: opened + 1.1 * DAY },
  );
  log('coupons, recipes, customers, parts');
  await seedCoupons(db, { actors, story, since: opened + 1.2 * DAY });
  const recipes = await seedRecipes(db, { actors, story, since: opened + 2 * DAY });
  await seedPolarization(db, { actors, story, since: opened + 2.5 * DAY });
  await seedFilms(db, { actors, story, since: opened + 2.6 * DAY });
  await seedExposure(db, { actors, story });
  const customerIds = await seedCustomers(db, { actors, story, since: opened + 3 * DAY });
  const standardIds = await seedStandards(db, { actors, story, since: opened + 3.3 * DAY, customerIds });
  const parts = await addParts(db, { actors, story, since: opened + 3.5 * DAY, customerIds, standardIds });

  await seedInspectionPlans(db, { actors, story, since: opened + 3.8 * DAY, parts });
  const jobs = planJobs({ parts, recipes, equipment, chance, firstDaysAgo: firstJobDaysAgo });
  log(`${jobs.length} jobs of three months`);
  for (const job of jobs) await runJob({ db, actors, equipment, chance, story }, job);
  const exchangeRateId = await writeDownRate({ db, actors, story });
  const foreign = planForeignJob({ parts, recipes, equipment, exchangeRateId });
  await runJob({ db, actors, equipment, chance: seededRandom(756), story }, foreign);
  await seedEnquiries(
    { db, actors, equipment, chance: seededRandom(161), story },
    { parts, recipes, customerIds },
  );
  log('history');
  await story.settle();
  log('three months of the wet lab');
  await seedLabWeeks(db, { actors, story, chance, equipment, since: opened + 4 * DAY });
  await seedTrials({ db, actors, story }, { recipeRevisionId: recipes.peacock });
  await dateOffers(db);
  await dateMethods(db, opened);
  await failThermometer({ db, actors, story }, instrumentIds);
  log('nonconformances');
  await seedNonconformances({ db, actors, story });
  log('certificates of what was shipped');
  await seedCertificates(db, actors, publicUrl);
  await seedDeliveries(db, actors);
  log('a month of invoices');
  await seedInvoices({ db, actors, story });
  log('impact assessments');
  await seedAssessments(db, actors);
  return { people };
}

/** What a euro was worth in Swiss francs on the morning of the foreign quotation: made up, and plausible. */
async function writeDownRate({
  db,
  actors,
  story,
}: {
  db: Db;
  actors: Actors;
  story: Timeline;
}): Promise<number> {
  const morning = Date.now() - foreignJobDaysAgo * DAY;
  const input = {
    ...{ currency: 'CHF', rate: '0.9412', source: 'the bank’s list of the morning' },
    day: new Date(morning).toISOString().slice(0, 10),
  };
  const written = await story.at(Math.floor(morning / DAY) * DAY + 5 * 3_600_000, () =>
    addExchangeRate(db, { actor: actors.edgar, input }),
  );
  return written.id;
}

const validDays = 30;
/** An offer holds for so long from the day it was sent. Nobody could send one that is over already, so it is said late. */
const dateOffers = (db: Db): Promise<void> =>
  withoutTriggers(db, (execute) =>
    execute(sql`
      update "quotation_revision" set "validUntil" = coalesce("sentAt", "createdAt")::date + ${validDays}::int`),
  );

/** The methods to start with come with the database, which is younger than the story: they were in force when it began. */
const dateMethods = (db: Db, opened: number): Promise<void> =>
  withoutTriggers(db, (execute) =>
    execute(sql`
      update "analysis_method" set "createdAt" = ${new Date(opened)}, "inForceSince" = ${new Date(opened)}
       where "inForceSince" is not null`),
  );
