import { chamberLimits } from '@huelot/calc';
import { NewExposureTest, type ExposureTest, type ExposureVerdict, type ScanFinish } from '@huelot/contracts';
import { keepBytes } from '../core/files/index.ts';
import {
  endTest,
  interrupt,
  keepReading,
  observe,
  planTest,
  resume,
  startTest,
} from '../colour/exposure-tests/index.ts';
import { inTransaction, type Db } from '../db/client.ts';
import type { Timeline } from './backdate.ts';
import { seededRandom } from './chance.ts';
import { DAY } from './job.ts';
import type { Actors } from './people.ts';
import { platePicture } from './plate-picture.ts';

interface House {
  db: Db;
  actors: Actors;
  story: Timeline;
}
/** Per cent of rust at each day's look; null where nobody looked. */
interface Plate {
  mark: string;
  finish: ScanFinish;
  protective?: string;
  rust: readonly (number | null)[];
}
const HOUR = 3_600_000;
const oil = 'dewatering oil';

// Made up: bare and unsealed black rust within days, black under oil does not (common practice, no source).
const immersed: readonly Plate[] = [
  { mark: 'W1', finish: 'bare', rust: [0.2, 2, null, 9, 18] },
  { mark: 'W2', finish: 'bare', rust: [0, 1.5, null, 7, 15] },
  { mark: 'W3', finish: 'coloured', rust: [0, 0.3, null, 4, 9] },
  { mark: 'W4', finish: 'coloured', rust: [0, 0, null, 2.5, 6] },
  { mark: 'W5', finish: 'coloured-and-oiled', protective: oil, rust: [0, 0, null, 0, 0] },
  { mark: 'W6', finish: 'coloured-and-oiled', protective: oil, rust: [0, 0, null, 0, 0] },
];
const sprayed: readonly Plate[] = [
  { mark: 'S1', finish: 'bare', rust: [12, 30, 48, 65] },
  { mark: 'S2', finish: 'coloured', rust: [6, 22, 40, 55] },
  { mark: 'S3', finish: 'coloured', rust: [4, 18, 35, 50] },
  { mark: 'S4', finish: 'coloured-and-oiled', protective: oil, rust: [0, 0, 0.3, 1.2] },
  { mark: 'S5', finish: 'coloured-and-oiled', protective: oil, rust: [0, 0, 0, 0.4] },
  { mark: 'S6', finish: 'coloured-and-sealed', protective: 'hard wax', rust: [0, 0.4, 1.6, 5] },
];

/** An immersion that runs, with a day that nobody looked on, and a salt spray that ended after an interruption. */
export async function seedExposure(db: Db, { actors, story }: Omit<House, 'db'>): Promise<void> {
  const house = { db, actors, story };
  // In the morning, so that a look and the end of a test fall on the day they are counted on.
  const today = new Intl.DateTimeFormat('en-CA', { timeZone: 'Europe/Vienna' }).format(new Date());
  const morning = Date.parse(`${today}T07:00:00Z`);
  await immerse(house, morning - 6 * DAY);
  await spray(house, morning - 45 * DAY);
}

async function immerse(house: House, start: number): Promise<void> {
  const plan = await planOf(house, immersed, {
    ...{ name: 'Black of R-00005 in tap water', kind: 'immersion', medium: 'tap water', temperatureC: 21 },
    ...{ place: 'beakers on the lab bench', lookEveryDays: 1, plannedHours: 240 },
    limits: { temperatureC: { low: 18, high: 25 }, pH: null, collectionMlPerHour: null, saltGPerL: null },
  });
  const test = await begin(house, plan, start);
  await lookAt(house, { test, plates: immersed, start });
}

async function spray(house: House, start: number): Promise<void> {
  const plan = await planOf(house, sprayed, {
    ...{ name: 'Black, waxed and oiled, in salt spray', kind: 'neutral-salt-spray', medium: '5 % NaCl' },
    ...{ concentrationGPerL: 50, temperatureC: 35, place: 'salt spray chamber', standard: 'ISO 9227, NSS' },
    ...{ lookEveryDays: 1, plannedHours: 96, limits: chamberLimits({ method: 'neutral-salt-spray' }) },
  });
  const test = await begin(house, plan, start);
  const { db, story } = house;
  const actor = house.actors.lena;
  const chance = seededRandom(9227);
  for (const day of [1, 2, 3, 4]) {
    const now = new Date(start + day * DAY - 0.5 * HOUR);
    const input = {
      ...{ readAt: now.toISOString(), note: day === 3 ? 'heater set back by a degree' : '' },
      ...{ temperatureC: day === 3 ? 37.8 : Number(chance.near(35, 0.8).toFixed(1)) },
      ...{ pH: Number(chance.near(6.8, 0.2).toFixed(2)), saltGPerL: Number(chance.near(50, 3).toFixed(1)) },
      collectionMlPerHour: Number(chance.near(1.5, 0.3).toFixed(2)),
    };
    await story.at(now.getTime(), () => keepReading(db, { actor, testId: test.id, input, now }));
    if (day === 2) {
      const from = new Date(start + 2 * DAY + 2 * HOUR);
      const to = new Date(from.getTime() + 7 * HOUR);
      const pause = { fromAt: from.toISOString(), toAt: null, reason: 'nozzle blocked, chamber open' };
      const { id } = await story.at(from.getTime(), () =>
        interrupt(db, { actor, testId: test.id, input: pause, now: from }),
      );
      await story.at(to.getTime(), () => resume(db, { actor, id, toAt: to.toISOString(), now: to }));
    }
  }
  await lookAt(house, { test, plates: sprayed, start });
  const end = new Date(start + 4 * DAY + 8 * HOUR);
  const verdict =
    'On this steel, black alone rusted as bare steel did; under this oil rust began on the third and fourth day, under this wax ' +
    'on the second. It says nothing of another oil, and nothing of years in a drawer.';
  await story.at(end.getTime(), () =>
    endTest(db, { actor, id: test.id, endedAt: end.toISOString(), verdict, now: end }),
  );
}

async function planOf(
  { db, actors }: House,
  plates: readonly Plate[],
  facts: Partial<NewExposureTest>,
): Promise<NewExposureTest> {
  const { id: materialId } = await db.prisma.material.findFirstOrThrow({
    where: { name: 'Carbon steel 1075' },
  });
  const revision = await db.prisma.recipeRevision.findFirstOrThrow({
    where: { recipe: { number: 'R-00005' } },
    orderBy: { revision: 'desc' },
  });
  return NewExposureTest.parse({
    ...{ concentrationGPerL: null, standard: '', plannedStart: null, note: '', ...facts },
    responsibleId: actors.lena.personId,
    specimens: plates.map(({ mark, finish, protective = '' }) => ({
      ...{ mark, materialId, finish, protective, areaMm2: 2500, edgesMasked: true, note: '' },
      film: finish === 'bare' ? '' : 'black of R-00005, rinsed and dried',
      recipeRevisionId: finish === 'bare' ? null : revision.id,
      couponSeriesId: null,
    })),
  });
}

async function begin({ db, actors, story }: House, input: NewExposureTest, start: number) {
  const now = new Date(start);
  const actor = actors.lena;
  const planned = await story.at(start - HOUR, () =>
    planTest(db, { actor, input, now: new Date(start - HOUR) }),
  );
  return story.at(start, () =>
    startTest(db, {
      ...{ actor, id: planned.id, version: planned.version, startedAt: now.toISOString(), now },
    }),
  );
}

const verdictOf = (rust: number): ExposureVerdict =>
  rust === 0 ? 'no-change' : rust < 0.5 ? 'first-corrosion' : 'corroded';

/** What somebody saw of each plate a day after the other, with a picture of it. */
async function lookAt(
  { db, actors, story }: House,
  { test, plates, start }: { test: ExposureTest; plates: readonly Plate[]; start: number },
): Promise<void> {
  const actor = actors.lena;
  for (const [place, { finish, rust }] of plates.entries())
    for (const [index, rustPercent] of rust.entries()) {
      if (rustPercent === null) continue;
      const now = new Date(start + (index + 1) * DAY + place * 60_000);
      const { mark, id: specimenId } = test.specimens[place] ?? { mark: '', id: 0 };
      const bytes = platePicture({ finish, rustPercent, seed: test.id * 100 + place * 10 });
      await story.at(now.getTime(), () =>
        inTransaction(db, async (tx) => {
          const name = `${mark}-day-${index + 1}.png`;
          // A plate that did not change is not taken again.
          const isNew = rust.slice(0, index).findLast((one) => one !== null) !== rustPercent;
          const photoId = isNew ? await keepBytes(tx.execute, { actor, name, bytes }) : null;
          const input = {
            ...{ seenAt: now.toISOString(), verdict: verdictOf(rustPercent), note: '', takenOut: false },
            ...{ defectAreaPercent: rustPercent === 0 ? null : rustPercent, photoId },
          };
          // It joins the transaction at hand, so that a picture never stays without its look.
          return observe(tx, { actor, specimenId, input, now });
        }),
      );
    }
}
