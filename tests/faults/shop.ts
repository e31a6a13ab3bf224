import { readFileSync } from 'node:fs';
import path from 'node:path';
import { buildApp } from '../../apps/api/src/app.ts';
import { openDatabase } from '../../apps/api/src/db/client.ts';
import { startEmbedded } from '../../apps/api/src/db/embedded.ts';
import { migrate } from '../../apps/api/src/db/migrate.ts';
import { releaseManyLots, type Floor, type SignOff } from '../support/many-lots.ts';
import type { Service } from './service.ts';

/** What a browser would send again and again. */
export type Cookie = string;

const owner = { name: 'owner', password: 'correct horse battery staple' };

/** Becomes the first administrator of an empty service with the code it printed. */
export async function becomeOwner(service: Service): Promise<Cookie> {
  const code = /^ {4}(\S+)$/m.exec(service.output)?.[1];
  const answer = await post(service, {
    path: '/api/first-admin',
    body: {
      ...owner,
      code,
      displayName: 'Owner',
      shopName: 'Shop',
      timeZone: 'Europe/Berlin',
      currency: 'EUR',
    },
  });
  return cookieOf(answer);
}

/** Signs in as that administrator. */
export async function signIn(service: Service): Promise<Cookie> {
  return cookieOf(await post(service, { path: '/api/sign-in', body: owner }));
}

async function cookieOf(answer: Response): Promise<Cookie> {
  if (!answer.ok) throw new Error(`${answer.status}: ${await answer.text()}`);
  return answer.headers.getSetCookie()[0]?.split(';')[0] ?? '';
}

export function post(
  service: Service,
  request: { path: string; body: object; cookie?: Cookie },
): Promise<Response> {
  return fetch(service.url + request.path, {
    method: 'POST',
    headers: { 'content-type': 'application/json', cookie: request.cookie ?? '' },
    body: JSON.stringify(request.body),
  });
}

export const customer = (name: string) => ({
  name,
  currency: 'EUR',
  taxNumber: '',
  taxRatePercent: 19,
  terms: '',
  notes: '',
  contacts: [],
  addresses: [],
});

export const addCustomer = (service: Service, of: { name: string; cookie: Cookie }): Promise<Response> =>
  post(service, { path: '/api/customers', body: customer(of.name), cookie: of.cookie });

/** The names of all customers, read as the export gives them. */
export async function customerNames(service: Service, cookie: Cookie): Promise<Set<string>> {
  const answer = await fetch(`${service.url}/api/customers.csv`, { headers: { cookie } });
  if (!answer.ok) throw new Error(`${answer.status}: ${await answer.text()}`);
  return new Set((await answer.text()).match(/written-\d+-\d+/g));
}

/** A floor of lots to sign in a data folder, left as a stopped service leaves it. */
export async function prepareFloor(dataDir: string): Promise<Floor> {
  const embedded = await startEmbedded({ dataDir });
  await migrate(embedded.connectionString);
  const db = openDatabase(embedded);
  const app = await buildApp({ db, publicUrl: 'http://localhost', version: '0.0.0-test' });
  const floor = await releaseManyLots(app, { db, lots: 200 });
  await app.close();
  await db.close();
  await embedded.stop();
  return floor;
}

/** Signs a step as the tablet does. */
export function signStep(
  service: Service,
  { cookie, signOff }: { cookie: Cookie; signOff: SignOff | undefined },
): Promise<Response> {
  if (signOff === undefined) throw new Error('there is no step left to sign');
  return fetch(service.url + signOff.path, {
    method: 'POST',
    headers: { 'content-type': 'application/json', cookie, 'idempotency-key': signOff.key },
    body: signOff.body,
  });
}

/** Where a data folder keeps PostgreSQL's own files. */
export const clusterFile = (service: Service, name: string) =>
  path.join(service.dataDir, 'database', 'cluster', name);

/** The number of the database server's process. */
export const postmasterOf = (service: Service): number =>
  Number(readFileSync(clusterFile(service, 'postmaster.pid'), 'utf8').split('\n')[0]);
