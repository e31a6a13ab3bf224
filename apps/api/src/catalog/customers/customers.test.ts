import type { Customer } from '@huelot/contracts';
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp, type Ask, type TestApp } from '../../../../../tests/support/app.ts';

let huelot: TestApp;
let ask: Ask;
beforeAll(async () => {
  huelot = await testApp();
  ask = await huelot.as('estimator');
});

const facts = {
  name: 'Kestrel Instruments',
  currency: 'EUR',
  taxNumber: 'ATU00000000',
  taxRatePercent: 20,
  terms: '30 days net',
  notes: '',
  contacts: [{ name: 'Ida Holm', role: 'buyer', email: 'ida@kestrel.example', phone: '+43 1 000' }],
  addresses: [{ kind: 'billing', lines: 'Ring 1\n1010 Wien' }],
};
const add = async (extra: object = {}): Promise<Customer> => {
  const answer = await ask({ method: 'POST', url: '/api/customers', payload: { ...facts, ...extra } });
  expect(answer.statusCode, answer.body).toBe(201);
  return answer.json();
};
const put = (customer: { id: number; version: number }, payload: object) =>
  ask({
    method: 'PUT',
    url: `/api/customers/${customer.id}`,
    headers: { 'if-match': `"${customer.version}"` },
    payload,
  });
const list = async (query: string) => {
  const answer = await ask({ url: `/api/customers?${query}` });
  expect(answer.statusCode, answer.body).toBe(200);
  return answer.json<{ items: { id: number; name: string }[]; next: string | null }>();
};

test('a customer is added under the next number and read back whole', async () => {
  const added = await add();
  expect(added).toMatchObject({ ...facts, partCount: 0, archivedAt: null, mergedInto: null, version: 1 });
  expect(added.number).toMatch(/^C-\d{5}$/);
  const next = await add({ name: 'Second' });
  expect(Number(next.number.slice(2))).toBe(Number(added.number.slice(2)) + 1);
  const answer = await ask({ url: `/api/customers/${added.id}` });
  expect(answer.headers['etag']).toBe('"1"');
  expect(answer.json()).toEqual(added);
});

test('a change replaces contacts and addresses, and the history tells old from new', async () => {
  const added = await add({ name: 'Before' });
  const contacts = [{ name: 'Per Lund', role: '', email: '', phone: '' }];
  const answer = await put(added, { ...facts, name: 'After', contacts });
  expect(answer.statusCode).toBe(200);
  expect(answer.json()).toMatchObject({ name: 'After', contacts, version: 2 });
  const history = await ask({ url: `/api/history/customer/${added.id}` });
  const [changed, first] = history.json<{ items: { action: string; changes: unknown[] }[] }>().items;
  expect(changed?.action).toBe('changed');
  expect(changed?.changes).toContainEqual({ field: 'name', old: 'Before', new: 'After' });
  expect(first?.action).toBe('added');
});

test('an edit that started from an older version is refused with the record as it stands', async () => {
  const added = await add();
  await put(added, { ...facts, name: 'Theirs' });
  const answer = await put(added, { ...facts, name: 'Mine' });
  expect(answer.statusCode).toBe(412);
  expect(answer.json()).toMatchObject({ code: 'version-conflict', current: { name: 'Theirs', version: 2 } });
  const without = await ask({ method: 'PUT', url: `/api/customers/${added.id}`, payload: facts });
  expect(without.statusCode).toBe(428);
});

test.each([
  [{ name: ' ' }, 'name'],
  [{ name: 'a\0b' }, 'name'],
  [{ currency: 'euro' }, 'currency'],
  [{ taxRatePercent: -1 }, 'taxRatePercent'],
  [{ taxRatePercent: 100.5 }, 'taxRatePercent'],
  [{ taxRatePercent: 19.0005 }, 'taxRatePercent'],
  [{ contacts: [{ ...facts.contacts[0], email: 'not an address' }] }, 'contacts.0.email'],
  [{ addresses: [{ kind: 'moon', lines: 'x' }] }, 'addresses.0.kind'],
  [{ addresses: [{ kind: 'other', lines: ' \n' }] }, 'addresses.0.lines'],
])('%j is refused, naming %s, and nothing is kept', async (wrong, path) => {
  const before = (await list('archived=all')).items.length;
  const answer = await ask({ method: 'POST', url: '/api/customers', payload: { ...facts, ...wrong } });
  expect(answer.statusCode).toBe(422);
  expect(answer.json<{ issues: { path: string }[] }>().issues.map((issue) => issue.path)).toContain(path);
  expect((await list('archived=all')).items.length).toBe(before);
});

test('what is not there is a 404, and who may not write is refused', async () => {
  expect((await ask({ url: '/api/customers/999999' })).statusCode).toBe(404);
  const operator = await huelot.as('operator');
  expect((await operator({ url: '/api/customers' })).statusCode).toBe(403);
  const quality = await huelot.as('quality');
  expect((await quality({ method: 'POST', url: '/api/customers', payload: facts })).statusCode).toBe(403);
});

describe('the list', () => {
  test('pages through every customer once in each order', async () => {
    for (const name of ['Alder', 'Birch', 'birch', 'Cedar', 'Elm']) await add({ name: `Tree ${name}` });
    for (const sort of ['name', '-name', 'number', '-number', 'createdAt', '-createdAt']) {
      const whole = (await list(`search=tree&sort=${sort}&limit=100`)).items;
      const paged: unknown[] = [];
      let after = '';
      do {
        const { items, next } = await list(`search=tree&sort=${sort}&limit=2&after=${after}`);
        paged.push(...items);
        after = next ?? '';
      } while (after !== '');
      expect(whole).toHaveLength(5);
      expect(paged).toEqual(whole);
    }
    const down = (await list('search=tree&sort=-number')).items.map(({ id }) => id);
    expect(down).toEqual((await list('search=tree&sort=number')).items.map(({ id }) => id).reverse());
  });

  test('finds by name, number, contact and e-mail, and takes wildcards literally', async () => {
    const one = await add({
      name: '100% Fasteners_Ltd',
      contacts: [{ name: 'Una Brook', role: '', email: 'una@fasteners.example', phone: '' }],
    });
    for (const search of ['100% f', 'fasteners_', one.number, 'una br', 'una@fas']) {
      const { items } = await list(`search=${encodeURIComponent(search)}`);
      expect(
        items.map(({ id }) => id),
        search,
      ).toEqual([one.id]);
    }
    expect((await list('search=%25%25')).items).toHaveLength(0);
  });

  test('refuses a cursor of its own making', async () => {
    for (const after of ['zzz', Buffer.from('[1,2]').toString('base64url')]) {
      const answer = await ask({ url: `/api/customers?after=${after}` });
      expect(answer.statusCode).toBe(422);
    }
    const huge = Buffer.from('["a",1e300]').toString('base64url');
    expect((await ask({ url: `/api/customers?after=${huge}` })).statusCode).toBe(422);
  });

  test('leaves as CSV that no spreadsheet executes', async () => {
    await add({ name: '=HYPERLINK("http://evil.example")' });
    const answer = await ask({ url: '/api/customers.csv?search=hyperlink' });
    expect(answer.headers['content-type']).toBe('text/csv; charset=utf-8');
    expect(answer.headers['content-disposition']).toBe('attachment; filename="customers.csv"');
    const [row] = parse<Record<string, string>>(answer.body, { columns: true, bom: true });
    expect(row?.['name']).toBe(`'=HYPERLINK("http://evil.example")`);
  });
});

describe('the archive', () => {
  test('takes a customer off the list and puts it back', async () => {
    const one = await add({ name: 'Dormant' });
    const archived = await ask({ method: 'POST', url: `/api/customers/${one.id}/archive` });
    expect(archived.json<Customer>().archivedAt).not.toBeNull();
    expect((await list('search=dormant')).items).toHaveLength(0);
    expect((await list('search=dormant&archived=yes')).items).toHaveLength(1);
    const again = await ask({
      method: 'POST',
      url: `/api/customers/${one.id}/archive`,
      changesNothing: true,
    });
    expect(again.json()).toEqual(archived.json());
    await ask({ method: 'POST', url: `/api/customers/${one.id}/unarchive` });
    expect((await list('search=dormant')).items).toHaveLength(1);
  });

  test('keeps a customer with an open order', async () => {
    const one = await add({ name: 'Busy' });
    await huelot.db.prisma.order.create({
      data: { number: 'O-90001', customerId: one.id, currency: 'EUR', createdById: 1 },
    });
    const answer = await ask({ method: 'POST', url: `/api/customers/${one.id}/archive` });
    expect(answer.statusCode).toBe(409);
    expect(answer.json()).toMatchObject({
      code: 'in-use',
      detail: 'Busy has an open order: finish or cancel them first.',
    });
  });
});
