import { once } from 'node:events';
import path from 'node:path';
import type { FastifyInstance } from 'fastify';
import { buildApp } from './app.ts';
import { readConfig, type Config } from './config.ts';
import { openDatabase, type Db } from './db/client.ts';
import { startEmbedded } from './db/embedded.ts';
import { sendDueDigests } from './domains/lab/index.ts';
import { migrate } from './db/migrate.ts';
import { type Mailer, openMailer } from './mailer.ts';
import web from './plugins/web.ts';
import { portFault, refuseTakenPort } from './port.ts';
import { readRelease } from './release.ts';
import { root } from './root.ts';
import { onStopSignal } from './stop.ts';

export interface Service {
  /** The data folder unless the environment names another. */
  dataDir: string;
  /** What must happen before the database is opened. */
  before?: (config: Config) => Promise<void>;
  /** Does whatever the database needs before the first visitor; returns what to tell whoever started the service. */
  welcome: (db: Db, config: Config) => Promise<string[]>;
}

/** How long requests in flight may take to finish after a stop was asked for. */
const GRACE_MS = 20_000;

const REMIND_MS = 5 * 60_000;

/**
 * Runs the service until it is told to stop, then ends the process: with 0 when it was asked to, with 1 when
 * something is wrong, which it says on the console.
 */
export async function serve(service: Service): Promise<never> {
  const stop = onStopSignal();
  const closers: Closer[] = [];
  let exitCode = 0;
  try {
    await run(service, { closers, stop });
  } catch (error) {
    if (error !== stop.reason) {
      exitCode = 1;
      console.error(`\nHuelot cannot run: ${(error as Error).message}`);
    }
  }
  for (const close of closers.reverse()) {
    await close().catch((error: unknown) => {
      exitCode = 1;
      console.error(`Not everything was closed in order: ${(error as Error).message}`);
    });
  }
  process.exit(exitCode);
}

type Closer = () => Promise<unknown>;

/** Opens one thing after the other, leaving in `closers` how to close each, and serves until the stop. */
async function run(
  service: Service,
  { closers, stop }: { closers: Closer[]; stop: AbortSignal },
): Promise<never> {
  const config = readConfig(service);
  await refuseTakenPort(config);
  await service.before?.(config);

  const lost = new AbortController();
  const whereabouts: string[] = [];
  const connectionString = config.databaseUrl ?? (await openEmbedded());
  stop.throwIfAborted();
  await migrate(connectionString);
  const db = openDatabase({ connectionString });
  closers.push(() => db.close());
  const notices = await service.welcome(db, config);
  stop.throwIfAborted();

  const { publicUrl, trustedProxies } = config;
  const mailer = config.mail === null ? null : openMailer(config.mail);
  const app = await buildApp({
    ...{ db, publicUrl, trustedProxies, mailer, version: readRelease() },
    logger: { level: config.logLevel },
  });
  closers.push(() => closeGently(app));
  if (mailer !== null) closers.push(remindEveryMorning(app, { db, mailer, publicUrl }));
  await app.register(web, { folder: path.join(root, 'apps', 'web', 'build') });
  await app.listen(config).catch((error: NodeJS.ErrnoException) => {
    throw portFault(error, config);
  });
  console.log([`Huelot ${readRelease()} is at ${config.publicUrl}`, ...whereabouts, ...notices].join('\n'));

  await once(AbortSignal.any([stop, lost.signal]), 'abort');
  throw lost.signal.reason ?? stop.reason;

  async function openEmbedded(): Promise<string> {
    const embedded = await startEmbedded({
      dataDir: config.dataDir,
      log: (line) => console.log(line),
      onLost: (reason) => lost.abort(reason),
    });
    closers.push(() => embedded.stop());
    whereabouts.push(`The record is kept in ${embedded.home}`);
    return embedded.connectionString;
  }
}

/** Looks every few minutes whether somebody's digest of the wet lab is due; returns how to stop. */
function remindEveryMorning(app: FastifyInstance, of: { db: Db; mailer: Mailer; publicUrl: string }): Closer {
  let sending: Promise<unknown> = Promise.resolve();
  const timer = setInterval(() => {
    sending = sendDueDigests(of.db, of).catch((error: unknown) => {
      app.log.error({ err: error }, 'the digest of the wet lab was not sent');
    });
  }, REMIND_MS);
  return () => {
    clearInterval(timer);
    return sending;
  };
}

/** Finishes what is in flight; what takes too long is cut off. */
async function closeGently(app: FastifyInstance): Promise<void> {
  const patience = setTimeout(() => app.server.closeAllConnections(), GRACE_MS);
  await app.close();
  clearTimeout(patience);
}
