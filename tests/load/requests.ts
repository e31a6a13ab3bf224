import { mkdtempSync, rmSync } from 'node:fs';
import http from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { InjectOptions } from 'fastify';
import pg from 'pg';
import { buildApp } from '../../apps/api/src/app.ts';
import { openDatabase } from '../../apps/api/src/db/client.ts';
import { startEmbedded } from '../../apps/api/src/db/embedded/index.ts';
import { migrate } from '../../apps/api/src/db/migrate.ts';
import { query, urlOf } from '../support/database-server.ts';
import { closedLoop, spread, type Pace } from './closed-loop.ts';
import { releaseManyLots, type Floor, type SignOff } from '../support/many-lots.ts';
import { startService } from './service.ts';
import { replay, statementsOf, watchStatements } from './statements.ts';
import { testSecrets } from '../support/secrets.ts';

const LOTS = 600;
const READS = 6000;
/** As many people as work at once, and as many connections as the service keeps. */
const HANDS = 50;
const CONNECTIONS = 20;

export interface Compared {
  statements: number;
  bare: Pace;
  service: Pace;
  /** The service again, each of the fifty people asking once a second. */
  paced: Pace;
}

/** Opening a lot and signing a step: the service over HTTP against its own SQL sent through bare pg. */
export async function compareRequests(): Promise<{ open: Compared; sign: Compared }> {
  const dataDir = mkdtempSync(path.join(tmpdir(), 'huelot-bench-'));
  const embedded = await startEmbedded({ dataDir });
  const at = (name: string) => urlOf(embedded.connectionString, name);
  const clone = (name: string) => query(at('postgres'), `create database ${name} template floor`);
  try {
    await query(at('postgres'), 'create database floor');
    await migrate(at('floor'));
    const floor = await prepareFloor(at('floor'));
    for (const name of ['watched', 'bare', 'served']) await clone(name);

    watchStatements();
    const { opening, signing } = await watch(at('watched'), floor);
    const repeated = Array.from({ length: READS }, (_, read) => opening[read % opening.length] ?? []);
    const pool = new pg.Pool({ connectionString: at('bare'), max: CONNECTIONS });
    const again = { hands: HANDS, work: (statements: unknown[][]) => replay(pool, statements) };
    await closedLoop(opening, again); // Warms it up.
    const bareOpen = await closedLoop(repeated, again);
    const bareSign = await closedLoop(signing, again);
    await pool.end();

    const service = await startService({ DATABASE_URL: at('served') });
    const client = clientOf(service.url, floor.cookie);
    const reads = Array.from(
      { length: READS },
      (_, read) => floor.lotPaths[read % floor.lotPaths.length] ?? '',
    );
    await closedLoop(reads.slice(0, 1000), { hands: HANDS, work: client.get });
    const open = await closedLoop(reads, { hands: HANDS, work: client.get });
    const pacedOpen = await spread(reads.slice(0, 10 * HANDS), { perSecond: HANDS, work: client.get });
    const half = floor.signOffs.length / 2;
    const sign = await closedLoop(floor.signOffs.slice(0, half), { hands: HANDS, work: client.sign });
    const pacedSign = await spread(floor.signOffs.slice(half), { perSecond: HANDS, work: client.sign });
    await service.stop();
    return {
      open: { statements: opening[0]?.length ?? 0, bare: bareOpen, service: open, paced: pacedOpen },
      sign: { statements: signing[0]?.length ?? 0, bare: bareSign, service: sign, paced: pacedSign },
    };
  } finally {
    await embedded.stop();
    rmSync(embedded.home, { recursive: true, force: true });
    rmSync(dataDir, { recursive: true, force: true });
  }
}

async function prepareFloor(connectionString: string): Promise<Floor> {
  const db = openDatabase({ connectionString });
  const app = await buildApp({
    db,
    publicUrl: 'http://localhost',
    version: '0.0.0-bench',
    secrets: testSecrets,
  });
  const floor = await releaseManyLots(app, { db, lots: LOTS });
  await app.close();
  await db.close();
  return floor;
}

/** What the service sends to PostgreSQL for each request, seen in this process on a database of its own. */
async function watch(connectionString: string, floor: Floor) {
  const db = openDatabase({ connectionString, max: CONNECTIONS });
  const app = await buildApp({
    db,
    publicUrl: 'http://localhost',
    version: '0.0.0-bench',
    secrets: testSecrets,
  });
  const ask = async (request: InjectOptions) => {
    const answer = await app.inject({ ...request, headers: { ...request.headers, cookie: floor.cookie } });
    if (answer.statusCode >= 300) throw new Error(`${answer.statusCode}: ${answer.body}`);
  };
  const opening: unknown[][][] = [];
  const signing: unknown[][][] = [];
  for (const url of floor.lotPaths) opening.push(await statementsOf(() => ask({ url })));
  for (const { path: url, key, body: payload } of floor.signOffs.slice(0, floor.signOffs.length / 2)) {
    const headers = { 'content-type': 'application/json', 'idempotency-key': key };
    signing.push(await statementsOf(() => ask({ method: 'POST', url, payload, headers })));
  }
  await app.close();
  await db.close();
  return { opening, signing };
}

/** A browser that keeps its connections open. */
function clientOf(url: string, cookie: string) {
  const agent = new http.Agent({ keepAlive: true, maxSockets: HANDS });
  const send = (options: http.RequestOptions & { path: string }, body = '') =>
    new Promise<void>((resolve, reject) => {
      const request = http.request(url + options.path, { ...options, agent }, (answer) => {
        answer.resume().on('end', () => {
          const { statusCode = 0 } = answer;
          if (statusCode < 300) resolve();
          else reject(new Error(`${options.path}: ${statusCode}`));
        });
      });
      request.on('error', reject).end(body);
    });
  return {
    get: (path: string) => send({ path, headers: { cookie } }),
    sign: ({ path, key, body }: SignOff) =>
      send(
        {
          path,
          method: 'POST',
          headers: {
            cookie,
            'content-type': 'application/json',
            'content-length': Buffer.byteLength(body),
            'idempotency-key': key,
          },
        },
        body,
      ),
  };
}
