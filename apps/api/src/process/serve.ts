import { once } from 'node:events';
import path from 'node:path';
import type { FastifyInstance } from 'fastify';
import { buildApp } from '../app.ts';
import { startSealing, openChainKeys } from './chain-keeper.ts';
import { readConfig, type Config } from './config.ts';
import { openDatabase, type Db } from '../db/client.ts';
import { startEmbedded } from '../db/embedded/index.ts';
import { sendDueDigests } from '../lab/reminders/index.ts';
import { prepareDatabase } from '../db/prepare.ts';
import { sealStoredSecrets } from '../core/people/index.ts';
import { startHousekeeping } from './housekeeping.ts';
import { openKeyFile } from '../kernel/key-file.ts';
import { type Mailer, openMailer } from '../kernel/mailer.ts';
import web from '../plugins/web.ts';
import { portFault, refuseTakenPort } from './port.ts';
import { readRelease } from './version.ts';
import { root } from './root.ts';
import { secretBox } from '../kernel/secret-box.ts';
import { signingKeyOf } from '../kernel/signing-key.ts';
import { onStopSignal } from './stop.ts';

export interface Service {
  /** The data folder unless the environment names another. */
  dataDir: string;
  /** What must happen before the database is opened. */
  before?: (config: Config) => Promise<void>;
  /** Does whatever the database needs before the first visitor; returns what to tell whoever started the service. */
  welcome: (db: Db, config: Config, asOwner: AsOwner) => Promise<string[]>;
}

/** Does something as the owner of the tables, on connections of its own. */
export type AsOwner = <T>(work: (db: Db) => Promise<T>) => Promise<T>;

/** How long requests in flight may take to finish after a stop was asked for. */
const SHUTDOWN_TIMEOUT_MS = 20_000;

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
      console.error(`Not everything shut down cleanly: ${(error as Error).message}`);
    });
  }
  process.exit(exitCode);
}

type Closer = () => Promise<unknown>;

/** As long as a transaction may take; the slowest reading of a large shop takes a few seconds. */
const STATEMENT_TIMEOUT_MS = 60_000;

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
  const { ownerUrl, serviceUrl } = await findDatabase();
  stop.throwIfAborted();
  whereabouts.push(...(await prepareDatabase({ ownerUrl, serviceUrl })));
  const db = openDatabase({ connectionString: serviceUrl, statementTimeoutMs: STATEMENT_TIMEOUT_MS });
  closers.push(() => db.close());
  const secrets = secretBox(openKeyFile(config.secretsKeyFile));
  const { unreadable } = await sealStoredSecrets(db, secrets);
  const welcome = await service.welcome(db, config, async (work) => {
    const asOwner = openDatabase({ connectionString: ownerUrl, max: 5 });
    return work(asOwner).finally(() => asOwner.close());
  });
  const notices = [...unreadableNotice(unreadable, config), ...welcome];
  stop.throwIfAborted();

  const chain = await openChainKeys(db, config.chainKeyFile);
  const { publicUrl, trustedProxies, allowedHosts } = config;
  const mailer = config.mail === null ? null : openMailer(config.mail);
  const app = await buildApp({
    processKey: signingKeyOf(openKeyFile(config.processKeyFile)),
    ...{
      db,
      publicUrl,
      trustedProxies,
      allowedHosts,
      mailer,
      secrets,
      version: readRelease(),
      chainKeys: chain.keys,
    },
    logger: { level: config.logLevel },
  });
  const { log } = app;
  if (chain.keys !== null) {
    const to = config.sealMailTo;
    const mail = mailer === null || to === null ? null : { mailer, to, publicUrl };
    closers.push(startSealing(db, { keys: chain.keys, log, mail }));
  }
  closers.push(() => shutdown(app));
  closers.push(startHousekeeping(db, log));
  if (mailer !== null) closers.push(startDigestScheduler(app, { db, mailer, publicUrl }));
  await app.register(web, { folder: path.join(root, 'apps', 'web', 'build') });
  await app.listen(config).catch((error: NodeJS.ErrnoException) => {
    throw portFault(error, config);
  });
  console.log(
    [`Huelot ${readRelease()} is at ${config.publicUrl}`, ...whereabouts, ...chain.notices, ...notices].join(
      '\n',
    ),
  );

  await once(AbortSignal.any([stop, lost.signal]), 'abort');
  throw lost.signal.reason ?? stop.reason;

  async function findDatabase(): Promise<{ ownerUrl: string; serviceUrl: string }> {
    const { databaseUrl } = config;
    if (databaseUrl !== null) return { ownerUrl: config.ownerUrl ?? databaseUrl, serviceUrl: databaseUrl };
    const embedded = await startEmbedded({
      dataDir: config.dataDir,
      log: (line) => console.log(line),
      onLost: (reason) => lost.abort(reason),
    });
    closers.push(() => embedded.stop());
    whereabouts.push(`The record is kept in ${embedded.home}`);
    return { ownerUrl: embedded.connectionString, serviceUrl: embedded.serviceConnectionString };
  }
}

const unreadableNotice = (count: number, { secretsKeyFile }: Config): string[] =>
  count === 0
    ? []
    : [
        `The authenticator apps of ${count} people were added with another key than ${secretsKeyFile} holds: they sign in with a`,
        'recovery code or a passkey until the earlier file is back. See "The key of stored secrets" in docs/operations.md.',
      ];

/** Looks every few minutes whether somebody's digest of the wet lab is due; returns how to stop. */
function startDigestScheduler(
  app: FastifyInstance,
  options: { db: Db; mailer: Mailer; publicUrl: string },
): Closer {
  let sending: Promise<unknown> = Promise.resolve();
  const timer = setInterval(() => {
    sending = sendDueDigests(options.db, options).catch((error: unknown) => {
      app.log.error({ err: error }, 'the digest of the wet lab was not sent');
    });
  }, REMIND_MS);
  return () => {
    clearInterval(timer);
    return sending;
  };
}

/** Finishes what is in flight; what takes too long is cut off. */
async function shutdown(app: FastifyInstance): Promise<void> {
  const patience = setTimeout(() => app.server.closeAllConnections(), SHUTDOWN_TIMEOUT_MS);
  await app.close();
  clearTimeout(patience);
}
