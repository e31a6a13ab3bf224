import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import pg from 'pg';
import { buildApp } from '../../../apps/api/src/app.ts';
import { openDatabase } from '../../../apps/api/src/db/client.ts';
import { startEmbedded } from '../../../apps/api/src/db/embedded/index.ts';
import { migrate } from '../../../apps/api/src/db/migrate.ts';
import { grantToService, serviceRole } from '../../../apps/api/src/db/roles.ts';
import { loadDemo } from '../../../apps/api/src/demo/load.ts';
import { query, urlOf } from '../../support/database-server.ts';
import { testSecrets } from '../../support/secrets.ts';
import { watchStatements } from '../statements.ts';
import { readMore } from './enrich.ts';
import { startGrowth } from './grow.ts';
import type { Measured } from './measure.ts';
import { askAll } from './ask-all.ts';
import { recheck } from './recheck.ts';
import { report } from './report.ts';

/*
 * Ten years of a shop, and what each question costs in them: `npm run bench:decade -- --years 1,3,10 --only trace --out table.md`.
 * Fails where a question costs more with the years though its answer does not grow.
 */
const { values: asked } = parseArgs({
  options: {
    years: { type: 'string', default: '1,3,10' },
    'lots-per-year': { type: 'string', default: '10000' },
    only: { type: 'string', default: '' },
    out: { type: 'string' },
    recheck: { type: 'boolean', default: true },
  },
  allowNegative: true,
});
const years = asked.years.split(',').map(Number);
const say = (line: string) => console.error(`${new Date().toISOString().slice(11, 19)}  ${line}`);

const dataDir = mkdtempSync(path.join(tmpdir(), 'huelot-decade-'));
const embedded = await startEmbedded({ dataDir, durable: false });
try {
  const owner = urlOf(embedded.connectionString, 'decade');
  await query(urlOf(owner, 'postgres'), 'create database decade');
  await migrate(owner);
  await grantToService(owner, serviceRole);
  const db = openDatabase({ connectionString: owner });
  await loadDemo(db, { log: () => undefined });
  say('the present is there');

  const writer = new pg.Client({ connectionString: owner });
  writer.on('error', () => undefined); // The query in flight reports it.
  await writer.connect();
  await writer.query(`set session_replication_role = 'replica'`);
  await readMore(writer);
  const growth = await startGrowth(writer, {
    lotsPerYear: Number(asked['lots-per-year']),
    customersPerYear: 30,
    partsPerYear: 500,
    recipesPerYear: 14,
    years: Math.max(...years),
  });
  watchStatements();
  const asService = urlOf(embedded.serviceConnectionString, 'decade');
  const sizes: { years: number; lots: number; answers: Measured[] }[] = [];
  for (const size of years) {
    await growth.growTo(size);
    await writer.query('vacuum analyze');
    say(`grown to ${size} years`);
    const wrong = asked.recheck ? await recheck(writer) : [];
    if (wrong.length > 0) throw new Error(`The grown shop is not one that could be:\n${wrong.join('\n')}`);
    const serviceDb = openDatabase({ connectionString: asService });
    const app = await buildApp({
      db: serviceDb,
      publicUrl: 'http://localhost',
      version: '0.0.0-bench',
      secrets: testSecrets,
    });
    const { rows } = await writer.query<{ n: number }>('select count(*)::int as n from "lot"');
    sizes.push({
      years: size,
      lots: rows[0]?.n ?? 0,
      answers: await askAll({ app, db, url: asService, only: asked.only }),
    });
    await app.close();
    await serviceDb.close();
    if (asked.out !== undefined) writeFileSync(asked.out, `${report(sizes).markdown}\n`);
    say(`asked at ${size} years`);
  }
  const { rows: about } = await writer.query<{ version: string; bytes: string; kept: string }>(`
    select current_setting('server_version') as version, pg_size_pretty(pg_database_size(current_database())) as bytes,
           (select string_agg(format('%s %s', reltuples::int, relname), ', ' order by reltuples desc) from pg_class
             where relkind = 'r' and relnamespace = 'public'::regnamespace and reltuples > 10000) as kept`);
  await writer.end();
  await db.close();
  const { markdown, faults } = report(sizes);
  const text = [
    `PostgreSQL ${about[0]?.version}, ${cpus().length} processors (${cpus()[0]?.model}), ${about[0]?.bytes}: ${about[0]?.kept}.`,
    markdown,
    ...faults,
  ].join('\n\n');
  console.log(text);
  if (asked.out !== undefined) writeFileSync(asked.out, `${text}\n`);
  process.exitCode = faults.length > 0 ? 1 : 0;
} finally {
  await embedded.stop();
  rmSync(embedded.home, { recursive: true, force: true });
  rmSync(dataDir, { recursive: true, force: true });
}
