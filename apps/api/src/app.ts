import Fastify, { type FastifyInstance } from 'fastify';
import { serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod';
import type { Db } from './db/client.ts';
import type { Mailer } from './kernel/mailer.ts';
import type { SecretBox } from './kernel/secret-box.ts';
import type { SigningKey } from './kernel/signing-key.ts';
import type { ChainKeys } from './core/hash-chain/index.ts';
import { lineChanged } from './production/lots/index.ts';
import recipes from './catalog/recipes/routes.ts';
import { billing } from './billing/routes.ts';
import { catalog } from './catalog/routes.ts';
import { checkEvidence, readMeasured } from './colour/evidence/index.ts';
import { colour } from './colour/routes.ts';
import { core } from './core/routes.ts';
import { lab } from './lab/routes.ts';
import lots from './production/lots/routes.ts';
import travelers from './production/travelers/routes.ts';
import trials from './production/trials/routes.ts';
import { checkColourAtTank } from './quality/colour-readings/index.ts';
import { quality } from './quality/routes.ts';
import enquiries from './sales/enquiries/routes.ts';
import orders from './sales/orders/routes.ts';
import quotations from './sales/quotations/routes.ts';
import { workspace } from './workspace/routes.ts';
import cookie from './plugins/cookie.ts';
import errors from './plugins/errors.ts';
import health from './plugins/health.ts';
import hosts from './plugins/hosts.ts';
import limits from './plugins/limits.ts';
import notices from './plugins/notices.ts';
import openapi from './plugins/openapi.ts';
import requestLog, { requestId, requestInLog } from './plugins/request-log.ts';
import signin from './plugins/signin.ts';

declare module 'fastify' {
  interface FastifyInstance {
    db: Db;
    /** Where people reach the service, for links and QR codes. */
    publicUrl: string;
    /** The release of this build. */
    release: string;
    /** Null where no mail server is set. */
    mailer: Mailer | null;
    /** Null where the keys of the chain are not at hand. */
    chainKeys: ChainKeys | null;
    /** Seals what the database keeps and must not give away. */
    secrets: SecretBox;
    /** Signs files of processes; null where it is not at hand. */
    processKey: SigningKey | null;
  }
}

export interface AppParts {
  db: Db;
  publicUrl: string;
  version: string;
  secrets: SecretBox;
  /** Addresses of reverse proxies whose word on the caller's address counts. */
  trustedProxies?: string[];
  /** The names it answers under, beside that of its public address; none: any. */
  allowedHosts?: string[];
  logger?: object;
  mailer?: Mailer | null;
  chainKeys?: ChainKeys | null;
  processKey?: SigningKey | null;
  /** Off where one machine plays a whole shop, as in tests. */
  rateLimits?: boolean;
  /** How long a request may take to arrive whole. */
  requestTimeoutMs?: number;
}

/**
 * The whole API over an open database, not yet listening; tests call it as the process does.
 *
 * @example
 * const app = await buildApp({ db, publicUrl: 'http://localhost:4070', version: '0.1.0', secrets });
 */
export async function buildApp({
  db,
  publicUrl,
  version,
  secrets,
  trustedProxies = [],
  allowedHosts = [],
  logger,
  mailer = null,
  chainKeys = null,
  processKey = null,
  rateLimits = true,
  requestTimeoutMs = 5 * 60_000,
}: AppParts): Promise<FastifyInstance> {
  const app = Fastify({
    logger: logger === undefined ? false : { ...logger, serializers: { req: requestInLog } },
    requestIdHeader: false,
    genReqId: requestId,
    // Enough for the largest file over a poor line; a sender who dribbles holds no connection for ever.
    requestTimeout: requestTimeoutMs,
    http: {
      headersTimeout: Math.min(60_000, requestTimeoutMs),
      connectionsCheckingInterval: Math.min(30_000, requestTimeoutMs / 4),
    },
    trustProxy: trustedProxies,
    bodyLimit: 2 * 1024 * 1024,
    routerOptions: { maxParamLength: 200 },
    forceCloseConnections: 'idle',
  });
  app.decorate('db', db);
  app.decorate('publicUrl', publicUrl);
  app.decorate('release', version);
  app.decorate('mailer', mailer);
  app.decorate('chainKeys', chainKeys);
  app.decorate('secrets', secrets);
  app.decorate('processKey', processKey);
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);

  await app.register(requestLog);
  await app.register(errors);
  await app.register(hosts, { allowedHosts });
  await app.register(cookie);
  await app.register(limits, { rateLimits });
  await app.register(signin);
  await app.register(openapi);
  await app.register(health);
  await app.register(notices);

  for (const room of [...core, ...catalog, ...lab, ...colour]) await app.register(room);
  await app.register(enquiries);
  await app.register(quotations);
  await app.register(recipes, { checkEvidence, readMeasured });
  await app.register(orders, { lineChanged });
  await app.register(travelers, { checkColour: checkColourAtTank });
  for (const room of [lots, trials, ...quality, ...billing, ...workspace]) await app.register(room);
  return app;
}
