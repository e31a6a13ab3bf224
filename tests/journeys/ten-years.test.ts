import pg from 'pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { buildApp } from '../../apps/api/src/app.ts';
import { openDatabase } from '../../apps/api/src/db/client.ts';
import { whoAsks } from '../load/decade/ask-all.ts';
import { readMore } from '../load/decade/enrich.ts';
import { startGrowth } from '../load/decade/grow.ts';
import { bigTables, ownStatements, readScans } from '../load/decade/measure.ts';
import { askedOf, type Question } from '../load/decade/questions.ts';
import { recheck } from '../load/decade/recheck.ts';
import { drawSearches, findDifferences } from '../load/decade/same-answers.ts';
import { watchStatements } from '../load/statements.ts';
import { cloneDatabase } from '../support/database.ts';
import { testSecrets } from '../support/secrets.ts';

/*
 * A small past of the invented shop, made as the bench makes ten years. Its tables are then said to be as large as those of
 * ten years, so that PostgreSQL plans as it would there.
 */
const SMALL = { lotsPerYear: 1200, customersPerYear: 60, partsPerYear: 200, recipesPerYear: 60, years: 1 };
const TEN_YEARS_OF_IT = 80;

const { url, serviceUrl, drop } = await cloneDatabase('template_shop');
const owner = new pg.Client({ connectionString: url });
const service = new pg.Client({ connectionString: serviceUrl });
watchStatements();
const db = openDatabase({ connectionString: url, max: 2 });
const serviceDb = openDatabase({ connectionString: serviceUrl, max: 4 });
const app = await buildApp({
  ...{ db: serviceDb, publicUrl: 'http://localhost', version: '0.0.0-test', secrets: testSecrets },
});
let questions: Question[] = [];

beforeAll(async () => {
  await owner.connect();
  await service.connect();
  await owner.query(`set session_replication_role = 'replica'`);
  await readMore(owner);
  const growth = await startGrowth(owner, SMALL);
  await growth.growTo(SMALL.years);
  await owner.query('vacuum analyze');
  questions = await askedOf(service);
});
afterAll(async () => {
  await app.close();
  await serviceDb.close();
  await db.close();
  await owner.end();
  await service.end();
  await drop();
});

describe('a past that is made in SQL', () => {
  test('is one that the record would have taken', async () => {
    const { rows } = await owner.query<{ n: number }>('select count(*)::int as n from "lot"');
    expect(rows[0]?.n).toBeGreaterThan(SMALL.lotsPerYear * 0.9);
    expect(await recheck(owner)).toEqual([]);
  });

  test('is looked at for what the triggers guard', async () => {
    await owner.query('begin');
    await owner.query(
      `update "step_sign_off" set "lotId" = "lotId" + 1 where "id" = (select min("id") from "step_sign_off")`,
    );
    await owner.query(`update "lot" set "orderLineId" = 1 where "id" = (select min("id") from "lot")`);
    const wrong = await recheck(owner);
    await owner.query('rollback');
    expect(wrong).toContain('a step is signed that its traveler does not have, or under another lot: 1');
    expect(wrong).toContain('1 rows of lot refer by orderLineId to no order_line');
  });
});

describe('a search of the trace', () => {
  test('answers as the plain statement does, however it finds it', async () => {
    const searches = await drawSearches(service, 100);
    for (const bounds of [
      { rare: 6000, window: 8000 },
      { rare: 40, window: 60 },
    ]) {
      const { differing, found } = await findDifferences(serviceDb.execute, { searches, bounds });
      expect(differing).toEqual([]);
      expect(found).toBeGreaterThan(500);
    }
  });
});

test('no question reads the years from end to end', async () => {
  await owner.query(
    `update pg_class set reltuples = greatest(reltuples, 1000) * $1 where relnamespace = 'public'::regnamespace and relname = any($2)`,
    [TEN_YEARS_OF_IT, bigTables],
  );
  const { cookieOf, shared } = await whoAsks(app, db);
  const read: Record<string, string[]> = {};
  for (const { name, path, role = 'owner' } of questions.filter(({ grows }) => grows === undefined)) {
    const sent = await ownStatements(async () => {
      const answer = await app.inject({ url: `/api${path}`, headers: { cookie: cookieOf(role) } });
      expect(answer.statusCode, `${name}: ${answer.body.slice(0, 300)}`).toBe(200);
    }, shared);
    const scans = await readScans(service, sent);
    if (scans.length > 0) read[name] = scans;
  }
  expect(questions.length).toBeGreaterThan(80);
  expect(read).toEqual({});
});
