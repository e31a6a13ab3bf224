import { randomBytes } from 'node:crypto';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { buildApp } from '../../apps/api/src/app.ts';
import type { Role } from '@huelot/contracts';
import { openDatabase, type Db } from '../../apps/api/src/db/client.ts';
import { startEmbedded } from '../../apps/api/src/db/embedded/index.ts';
import { openPlace } from '../../apps/api/src/db/embedded/paths.ts';
import { runningServer } from '../../apps/api/src/db/embedded/postmaster.ts';
import { connectionString } from '../../apps/api/src/db/embedded/start.ts';
import { migrate } from '../../apps/api/src/db/migrate.ts';
import { addPerson } from '../../apps/api/src/core/people/queries.ts';
import { openSignIn } from '../../apps/api/src/core/people/sign-in.ts';
import { releaseManyLots, type Floor, type SignOff } from '../support/many-lots.ts';
import type { Service } from './service.ts';
import { testSecrets } from '../support/secrets.ts';

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
  request: { path: string; body: object; cookie?: Cookie } & Sender,
): Promise<Response> {
  return fetch(service.url + request.path, {
    method: 'POST',
    headers: {
      ...{ 'content-type': 'application/json', cookie: request.cookie ?? '' },
      ...senderHeaders(request),
    },
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

/** For a service that believes a proxy on this machine about the addresses behind it. */
export const behindProxy = { HUELOT_TRUSTED_PROXIES: '127.0.0.1' };

/** An address of the 198.18.0.0/15 kept for tests: from one alone most would only meet the limit of its requests. */
export const addressOf = (index: number): string =>
  `198.${18 + ((index >> 16) & 1)}.${(index >> 8) & 255}.${index & 255}`;

interface Sender {
  key?: string | undefined;
  /** Where it comes from, as the proxy says. */
  address?: string | undefined;
}
const senderHeaders = ({ key, address }: Sender): Record<string, string> => ({
  ...(key === undefined ? {} : { 'idempotency-key': key }),
  ...(address === undefined ? {} : { 'x-forwarded-for': address }),
});

export const addCustomer = (
  service: Service,
  { name, ...sender }: { name: string; cookie: Cookie } & Sender,
): Promise<Response> => post(service, { path: '/api/customers', body: customer(name), ...sender });

/** Sends a drawing, which nobody else sends: its content begins with its name. */
export function upload(
  service: Service,
  {
    name,
    cookie,
    bytes = 200_000,
    ...more
  }: { name: string; cookie: Cookie; bytes?: number | Buffer<ArrayBuffer> } & Sender,
): Promise<Response> {
  const form = new FormData();
  const content = typeof bytes === 'number' ? randomBytes(bytes) : bytes;
  form.set('file', new Blob([`%PDF-1.7 ${name}\n`, content]), `${name}.pdf`);
  return fetch(`${service.url}/api/files`, {
    method: 'POST',
    headers: { cookie, ...senderHeaders(more) },
    body: form,
  });
}

/** The names of all customers, read as the export gives them. */
export async function customerNames(service: Service, cookie: Cookie): Promise<Set<string>> {
  const answer = await fetch(`${service.url}/api/customers.csv`, { headers: { cookie } });
  if (!answer.ok) throw new Error(`${answer.status}: ${await answer.text()}`);
  return new Set((await answer.text()).match(/written-\d+-\d+/g));
}

/** A floor of lots to sign in a data folder, left as a stopped service leaves it. */
export async function prepareFloor(dataDir: string, lots = 200): Promise<Floor> {
  const embedded = await startEmbedded({ dataDir });
  const floor = await prepareFloorIn(embedded.connectionString, lots);
  await embedded.stop();
  return floor;
}

/** Such a floor in an empty database. */
export async function prepareFloorIn(url: string, lots = 40): Promise<Floor> {
  await migrate(url);
  const db = openDatabase({ connectionString: url });
  const app = await buildApp({
    db,
    publicUrl: 'http://localhost',
    version: '0.0.0-test',
    secrets: testSecrets,
  });
  const floor = await releaseManyLots(app, { db, lots });
  await app.close();
  await db.close();
  return floor;
}

/** Signs a step as the tablet does. */
export function signStep(
  service: Service,
  { cookie, signOff, address }: { cookie: Cookie; signOff: SignOff | undefined; address?: string },
): Promise<Response> {
  if (signOff === undefined) throw new Error('there is no step left to sign');
  return fetch(service.url + signOff.path, {
    method: 'POST',
    headers: { 'content-type': 'application/json', cookie, ...senderHeaders({ key: signOff.key, address }) },
    body: signOff.body,
  });
}

/** Reads a lot twice, beyond its limit: two rows, a hold and an entry in the audit trail, or none of them. */
export const readColour = (
  service: Service,
  { name, lotId, colourMeterId, ...sender }: { name: string; cookie: Cookie } & Floor['coloured'] & Sender,
): Promise<Response> =>
  post(service, {
    path: `/api/lots/${lotId}/colour-readings`,
    body: {
      ...{ fileName: '', second: null },
      readings: ['left', 'right'].map((side) => ({
        ...{ zone: '', place: `${name} ${side}`, spot: null, grade: 'measured', spectrum: null, note: '' },
        ...{ lab: { L: 46, a: 8, b: -30 }, expandedUncertainty: 0.5, outcome: null, confirmed: false },
        ...{ instrumentId: colourMeterId, instrument: '' },
        conditions: { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 },
      })),
    },
    ...sender,
  });

/** Where a data folder keeps PostgreSQL's own files. */
export const clusterFile = (service: Service, name: string) =>
  path.join(service.dataDir, 'database', 'cluster', name);

/** The number of the database server's process. */
export const postmasterOf = (service: Service): number =>
  Number(readFileSync(clusterFile(service, 'postmaster.pid'), 'utf8').split('\n')[0]);

/** How to reach the embedded database of a running service. */
export function databaseOf({ dataDir }: Service): string {
  const place = openPlace(dataDir);
  return connectionString(place, runningServer(place.cluster)?.port ?? 0);
}

/** A new person with these roles, signed in, who has just given the credential again. */
export async function signInAnew(db: Db, { name, roles }: { name: string; roles: Role[] }): Promise<Cookie> {
  const person = await addPerson(db, { name, displayName: name, email: null, roles, passwordHash: null });
  const token = await openSignIn(db, person, { address: '127.0.0.1', agent: 'test' });
  await db.prisma.signIn.updateMany({
    where: { personId: person.id },
    data: { provedAt: new Date(), provedWith: 'password' },
  });
  return `huelot=${token}`;
}
