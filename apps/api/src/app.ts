import Fastify, { type FastifyInstance } from 'fastify';
import { serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod';
import type { Db } from './db/client.ts';
import type { Mailer } from './mailer.ts';
import additions from './domains/additions/routes.ts';
import analyses from './domains/analyses/routes.ts';
import audit from './domains/audit/routes.ts';
import baths from './domains/baths/routes.ts';
import chemicals from './domains/chemicals/routes.ts';
import coupons from './domains/coupons/routes.ts';
import customers from './domains/customers/routes.ts';
import files from './domains/files/routes.ts';
import materials from './domains/materials/routes.ts';
import methods from './domains/methods/routes.ts';
import inspection from './domains/inspection/routes.ts';
import lab from './domains/lab/routes.ts';
import { lineChanged } from './domains/lots/index.ts';
import lots from './domains/lots/routes.ts';
import orders from './domains/orders/routes.ts';
import parts from './domains/parts/routes.ts';
import people from './domains/people/routes.ts';
import rates from './domains/rates/routes.ts';
import recipes from './domains/recipes/routes.ts';
import setup from './domains/setup/routes.ts';
import tanks from './domains/tanks/routes.ts';
import quotations from './domains/quotations/routes.ts';
import trace from './domains/trace/routes.ts';
import travelers from './domains/travelers/routes.ts';
import cookie from './plugins/cookie.ts';
import errors from './plugins/errors.ts';
import health from './plugins/health.ts';
import limits from './plugins/limits.ts';
import openapi from './plugins/openapi.ts';
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
  }
}

export interface AppParts {
  db: Db;
  publicUrl: string;
  version: string;
  /** Addresses of reverse proxies whose word on the caller's address counts. */
  trustedProxies?: string[];
  logger?: boolean | object;
  mailer?: Mailer | null;
}

/**
 * The whole API over an open database, not yet listening; tests call it as the process does.
 *
 * @example
 * const app = await buildApp({ db, publicUrl: 'http://localhost:4070', version: '0.1.0' });
 */
export async function buildApp({
  db,
  publicUrl,
  version,
  trustedProxies = [],
  logger = false,
  mailer = null,
}: AppParts): Promise<FastifyInstance> {
  const app = Fastify({
    logger,
    trustProxy: trustedProxies,
    bodyLimit: 2 * 1024 * 1024,
    routerOptions: { maxParamLength: 200 },
    forceCloseConnections: 'idle',
  });
  app.decorate('db', db);
  app.decorate('publicUrl', publicUrl);
  app.decorate('release', version);
  app.decorate('mailer', mailer);
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);

  await app.register(errors);
  await app.register(cookie);
  await app.register(limits);
  await app.register(signin);
  await app.register(openapi);
  await app.register(health);

  for (const domain of [people, audit, customers, materials, files, parts, tanks, rates, recipes, setup])
    await app.register(domain);
  for (const domain of [chemicals, methods, baths, analyses, additions, coupons, lab])
    await app.register(domain);
  await app.register(orders, { lineChanged });
  for (const domain of [quotations, lots, travelers, inspection, trace]) await app.register(domain);
  return app;
}
