import { randomBytes, randomUUID } from 'node:crypto';
import type { Customer, StoredFile } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { testApp } from '../../../../tests/support/app.ts';
import { addressOf, endpoints } from '../../../../tests/support/endpoints.ts';
import { leastBody } from '../../../../tests/support/least-body.ts';
import { multipart } from '../../../../tests/support/multipart.ts';
import { digestOf } from './once.ts';

const { as, db } = await testApp();
const owner = await as('owner', 'estimator', 'planner', 'operator', 'lab', 'quality');

const customer = {
  ...{ name: 'Kestrel Instruments', currency: 'EUR', taxNumber: '', taxRatePercent: 20, terms: '' },
  ...{ notes: '', contacts: [], addresses: [] },
};
const addCustomer = (key: string, extra: object = {}) =>
  owner({
    method: 'POST',
    url: '/api/customers',
    headers: { 'idempotency-key': key },
    payload: { ...customer, ...extra },
  });
const named = (name: string) => db.prisma.customer.count({ where: { name } });

const writes = endpoints.filter(([, { method }]) => method !== 'GET');
const keyed = writes.filter(([, { keyless }]) => keyless === null);
const keyless = writes.filter(([, { keyless: why }]) => why !== null);
/** What the form of a contract alone does not show. */
const more: Record<string, object> = {
  createMethod: { kind: 'appearance' },
  updateMethod: { kind: 'appearance' },
  setChartBaseline: { from: '2026-01-01T00:00:00.000Z', to: '2026-02-01T00:00:00.000Z' },
};

test('every write takes a key or says why not, and those that do not are few', () => {
  expect(keyed.length).toBeGreaterThan(100);
  expect(keyless.map(([name]) => name).sort()).toEqual([
    ...['acceptInvitation', 'addPasskey', 'beginApp', 'beginPasskey', 'beginPasskeyProof'],
    ...['beginPasskeySignIn', 'changePassword', 'confirmApp', 'createCalendarFeed', 'createFirstAdmin'],
    ...[
      'invitePerson',
      'issueLink',
      'keepStepDraft',
      'previewBankLines',
      'previewChemicalImport',
      'previewColourFile',
      'previewCustomerImport',
    ],
    ...[
      'previewMaterialImport',
      'previewNotebook',
      'previewPartImport',
      'proveAgain',
      'readProcessFile',
      'renewRecoveryCodes',
    ],
    ...['setPin', 'signIn', 'signInWithCode', 'signInWithPasskey', 'signOut', 'signOutEverywhere'],
    'startChainCheck',
  ]);
});

test('the description of the API did not say where a key is taken', async () => {
  interface Parameter {
    in: string;
    name: string;
  }
  const { paths, components } = (await owner({ url: '/api/openapi.json' })).json<{
    paths: Record<
      string,
      Record<string, { description?: string; parameters?: (Parameter | { $ref: string })[] }>
    >;
    components: { parameters: Record<string, Parameter> };
  }>();
  const parameterOf = (one: Parameter | { $ref: string }) =>
    '$ref' in one ? components.parameters[one.$ref.replace('#/components/parameters/', '')] : one;
  for (const [name, endpoint] of writes) {
    const path = `/api${endpoint.path.replaceAll(/:(\w+)/g, '{$1}')}`;
    const described = paths[path]?.[endpoint.method.toLowerCase()];
    const headers = (described?.parameters ?? [])
      .map(parameterOf)
      .flatMap((one) => (one?.in === 'header' ? [one.name] : []));
    expect(headers.includes('Idempotency-Key'), name).toBe(endpoint.keyless === null);
    expect(headers.includes('If-Match'), name).toBe(endpoint.versioned);
    if (endpoint.keyless !== null) expect(described?.description, name).toContain(endpoint.keyless);
  }
});

test.each(keyed)('%s was carried out again for a key that was answered before', async (name, endpoint) => {
  const method = endpoint.method as 'POST';
  const key = randomUUID();
  const url = addressOf(endpoint).replace('/number-series/part', '/number-series/order');
  const isUpload = name === 'uploadFile';
  const sent = leastBody(endpoint, more[name]);
  const payload = isUpload
    ? multipart({ name: 'a.pdf', content: '%PDF-1.7\n%%EOF\n' })
    : { payload: sent as object };
  const ask = () =>
    owner({
      method,
      url,
      ...payload,
      headers: {
        ...('headers' in payload ? payload.headers : {}),
        ...{ 'idempotency-key': key, 'if-match': '"1"' },
      },
    });
  const plant = (digest: Buffer) =>
    db.pool.query(
      `insert into answered ("personId", key, "requestHash", status, reply) values ($1, $2, $3, 299, '{"version":41}')
         on conflict ("personId", key) do update set "requestHash" = excluded."requestHash"`,
      [owner.personId, key, digest],
    );
  await plant(Buffer.from('another request'));
  const refused = await ask();
  expect(refused.json(), refused.body).toMatchObject({ status: 422, code: 'key-reused' });
  if (isUpload) return;
  await plant(digestOf({ method, url, body: endpoint.body.parse(sent) }));
  const again = await ask();
  expect([again.statusCode, again.body, again.headers.etag]).toEqual([299, '{"version":41}', '"41"']);
});

test.each(keyless)('%s ignored a key, or kept an answer that must not be kept', async (_name, endpoint) => {
  const answer = await owner({
    method: endpoint.method,
    url: addressOf(endpoint),
    headers: { 'idempotency-key': 'the-same-key-twice' },
    payload: {},
  });
  expect([400, 422], answer.body).toContain(answer.statusCode);
  expect(await db.prisma.answered.count({ where: { key: 'the-same-key-twice' } })).toBe(0);
});

test('a customer sent twice was there twice', async () => {
  const key = randomUUID();
  const first = await addCustomer(key);
  const again = await addCustomer(key);
  expect(first.statusCode).toBe(201);
  for (const part of ['statusCode', 'body'] as const) expect(again[part]).toBe(first[part]);
  for (const name of ['etag', 'content-type', 'cache-control'] as const)
    expect(again.headers[name]).toBe(first.headers[name]);
  expect(await named(customer.name)).toBe(1);
  const other = await addCustomer(key, { name: 'Another' });
  expect(other.json()).toMatchObject({ status: 422, code: 'key-reused' });
  expect(await named('Another')).toBe(0);
});

test('a resend was answered with the record as it is now, not with the first answer', async () => {
  const key = randomUUID();
  const first = await addCustomer(key, { name: 'As it was' });
  const { id, version } = first.json<Customer>();
  const changed = await owner({
    method: 'PUT',
    url: `/api/customers/${id}`,
    headers: { 'if-match': `"${version}"` },
    payload: { ...customer, name: 'As it is' },
  });
  expect(changed.statusCode, changed.body).toBe(200);
  expect((await addCustomer(key, { name: 'As it was' })).body).toBe(first.body);
});

test('an edit sent again after its answer was lost clashed with itself', async () => {
  const { id, version } = (await addCustomer(randomUUID(), { name: 'Edited' })).json<Customer>();
  const edit = {
    method: 'PUT' as const,
    url: `/api/customers/${id}`,
    headers: { 'if-match': `"${version}"`, 'idempotency-key': randomUUID() },
    payload: { ...customer, name: 'Edited twice' },
  };
  const first = await owner(edit);
  const again = await owner(edit);
  expect([again.statusCode, again.body, again.headers.etag]).toEqual([
    200,
    first.body,
    `"${first.json<Customer>().version}"`,
  ]);
});

test('twenty at once with one key wrote more than one', async () => {
  const key = randomUUID();
  const answers = await Promise.all(Array.from({ length: 20 }, () => addCustomer(key, { name: 'At once' })));
  expect(await named('At once')).toBe(1);
  const made = answers.filter(({ statusCode }) => statusCode === 201);
  expect(made.length).toBeGreaterThan(0);
  expect(new Set(made.map(({ body }) => body)).size).toBe(1);
  for (const answer of answers.filter(({ statusCode }) => statusCode !== 201))
    expect(answer.json()).toMatchObject({ status: 409, code: 'in-progress' });
});

test('two people with one key got one answer', async () => {
  const other = await as('estimator');
  const key = randomUUID();
  await addCustomer(key, { name: 'Two people' });
  const theirs = await other({
    method: 'POST',
    url: '/api/customers',
    headers: { 'idempotency-key': key },
    payload: { ...customer, name: 'Two people' },
  });
  expect(theirs.statusCode).toBe(201);
  expect(await named('Two people')).toBe(2);
});

test('a refusal was kept, and what was mended under the same key was refused with it', async () => {
  const key = randomUUID();
  const part = (customerId: number) =>
    owner({
      method: 'POST',
      url: '/api/quotations',
      headers: { 'idempotency-key': key },
      payload: { ...(leastBody(contractOf('createQuotation')) as object), customerId },
    });
  const refused = await part(999_999);
  expect(refused.statusCode, refused.body).toBeGreaterThanOrEqual(400);
  expect(await db.prisma.answered.count({ where: { key } })).toBe(0);
});
const contractOf = (wanted: string) => {
  const [, endpoint] = endpoints.find(([name]) => name === wanted) ?? [];
  if (endpoint === undefined) throw new Error(`there is no ${wanted}`);
  return endpoint;
};

test('a drawing sent twice was kept twice', async () => {
  const key = randomUUID();
  const content = Buffer.concat([Buffer.from('%PDF-1.7\n'), randomBytes(600_000)]);
  const send = (file: { name: string; content: Buffer }) => {
    const { headers, payload } = multipart(file);
    return owner({
      method: 'POST',
      url: '/api/files',
      headers: { ...headers, 'idempotency-key': key },
      payload,
    });
  };
  const first = await send({ name: 'a.pdf', content });
  const again = await send({ name: 'a.pdf', content });
  expect(first.statusCode, first.body).toBe(201);
  expect(again.json<StoredFile>()).toEqual(first.json());
  expect(await db.prisma.file.count()).toBe(1);
  const altered = Buffer.from(content);
  altered.writeUInt8(content.readUInt8(500_000) ^ 1, 500_000);
  for (const other of [
    { name: 'b.pdf', content },
    { name: 'a.pdf', content: altered },
  ])
    expect((await send(other)).json()).toMatchObject({ status: 422, code: 'key-reused' });
  expect(await db.prisma.file.count()).toBe(1);
});

test('a write that failed left its key, or its key left the write', async () => {
  const key = randomUUID();
  // The answer cannot be kept: what was written goes with it.
  await db.pool.query(`alter table answered add constraint none check (reply not like '%Half%')`);
  const failed = await addCustomer(key, { name: 'Half' });
  await db.pool.query('alter table answered drop constraint none');
  expect(failed.statusCode).toBeGreaterThanOrEqual(400);
  expect(await named('Half')).toBe(0);
  expect((await addCustomer(key, { name: 'Half' })).statusCode).toBe(201);
  expect(await named('Half')).toBe(1);
});

test('the digest of a request gave a PIN away', () => {
  const of = (pin: string) => digestOf({ method: 'POST', url: '/x', body: { signer: { personId: 1, pin } } });
  expect(of('1234')).toEqual(of('4321'));
});
