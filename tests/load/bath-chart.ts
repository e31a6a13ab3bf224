import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pg from 'pg';
import { buildApp } from '../../apps/api/src/app.ts';
import { openDatabase } from '../../apps/api/src/db/client.ts';
import { startEmbedded } from '../../apps/api/src/db/embedded/index.ts';
import { migrate } from '../../apps/api/src/db/migrate.ts';
import { addPerson } from '../../apps/api/src/core/people/queries.ts';
import { openSignIn } from '../../apps/api/src/core/people/sign-in.ts';
import web from '../../apps/api/src/plugins/web.ts';
import { query, urlOf } from '../support/database-server.ts';
import { frameMs } from './chart-frames.ts';
import { replay, statementsOf, watchStatements } from './statements.ts';
import { testSecrets } from '../support/secrets.ts';

const ANALYSES = 40_000;
const BATHS = 6;
const ROUNDS = 60;

/** Ten years of six baths, written at once: what a chart of one component has to find its way through. */
const tenYears = `
  insert into "tank" ("code", "name", "kind", "contents", "insideLengthMm", "insideWidthMm", "insideDepthMm", "workingVolumeL")
    select 'T' || g, 'Tank', 'immersion', 'hot-caustic', 1000, 600, 850, 400 from generate_series(1, ${BATHS}) g;
  insert into "bath" ("number", "tankId", "contents", "madeUpAt", "madeUpById")
    select 'B-' || "id", "id", 'hot-caustic', now() - interval '10 years', 1 from "tank";
  insert into "analysis" ("number", "bathId", "methodId", "sampledAt", "analysedAt", "analystId", "why", "readings", "questions", "flags", "calcVersion")
    select 'A-' || g, 1 + g % ${BATHS}, 1, now() - g * interval '10 years' / ${ANALYSES}, now(), 1, 'schedule', '{}', '{}', '{}', '1'
      from generate_series(1, ${ANALYSES}) g;
  insert into "analysis_result" ("analysisId", "bathId", "sampledAt", "component", "name", "value", "standardUncertainty", "unit", "state")
    select a."id", a."bathId", a."sampledAt", c, c, 0.5 + 0.01 * random(), 0.003, 'massFraction', 'in-range'
      from "analysis" a cross join unnest(array['KOH', 'K2CO3', 'totalAlkali']) c;
  vacuum analyze;`;

const median = (times: number[]): number =>
  times.toSorted((a, b) => a - b)[Math.floor(times.length / 2)] ?? NaN;
async function medianMs(work: () => Promise<unknown>): Promise<number> {
  const times: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const start = performance.now();
    await work();
    times.push(performance.now() - start);
  }
  return median(times);
}

/**
 * The data of a chart page, from the request to its last byte, and the same statements through bare pg; then the page
 * itself in a browser.
 */
export async function measureBathChart(): Promise<{
  points: number;
  serviceMs: number;
  bareMs: number;
  frameMs: number;
}> {
  const dataDir = mkdtempSync(path.join(tmpdir(), 'huelot-bench-'));
  const embedded = await startEmbedded({ dataDir });
  const url = urlOf(embedded.connectionString, 'ten_years');
  try {
    await query(urlOf(embedded.connectionString, 'postgres'), 'create database ten_years');
    await migrate(url);
    const db = openDatabase({ connectionString: url });
    const person = await addPerson(db, {
      ...{ name: 'lab', displayName: 'lab', email: null, passwordHash: null },
      roles: ['lab'],
    });
    for (const statement of tenYears.split(';\n').filter((one) => one.trim() !== ''))
      await query(url, statement);
    const app = await buildApp({
      db,
      publicUrl: 'http://localhost',
      version: '0.0.0-bench',
      secrets: testSecrets,
    });
    await app.register(web, { folder: path.resolve(import.meta.dirname, '../../apps/web/build') });
    const token = await openSignIn(db, person, { address: '127.0.0.1', agent: 'bench' });
    const cookie = `huelot=${token}`;
    const open = async () => {
      const reply = await app.inject({ url: '/api/tanks/1/bath-chart?component=KOH', headers: { cookie } });
      return reply;
    };
    watchStatements();
    const statements = await statementsOf(open);
    const reply = await open();
    const { points } = reply.json<{ points: { value: number[] } }>();
    const pool = new pg.Pool({ connectionString: url, max: 1 });
    const serviceMs = await medianMs(open);
    const bareMs = await medianMs(() => replay(pool, statements));
    await pool.end();
    const address = await app.listen({ port: 0, host: '127.0.0.1' });
    const frame = await frameMs({
      url: address.replace('127.0.0.1', 'localhost'),
      token,
      page: '/lab/baths/1/chart?component=KOH',
    });
    await app.close();
    await db.close();
    return { points: points.value.length, serviceMs, bareMs, frameMs: frame };
  } finally {
    await embedded.stop();
    rmSync(embedded.home, { recursive: true, force: true });
    rmSync(dataDir, { recursive: true, force: true });
  }
}
