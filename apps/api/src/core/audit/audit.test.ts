import type { AuditEntry } from '@huelot/contracts';
import { parse } from 'csv-parse/sync';
import { beforeAll, expect, test } from 'vitest';
import { testApp, type Ask, type TestApp } from '../../../../../tests/support/app.ts';

let app: TestApp;
let owner: Ask;
beforeAll(async () => {
  app = await testApp();
  owner = await app.as('owner');
  await app.db.prisma.shop.updateMany({ data: { timeZone: 'Pacific/Auckland' } });
  const [first] = await app.db.prisma.person.findMany({ orderBy: { id: 'asc' }, take: 1 });
  const entry = (at: string, number: string) => ({
    at: new Date(at),
    personId: first?.id ?? 0,
    personName: 'Ann, "the first"',
    roles: ['owner'],
    action: 'changed',
    recordKind: 'part',
    recordId: 1,
    recordNumber: number,
    changes: [
      { field: 'areaMm2', old: 42_000, new: 43_000 },
      { field: 'description', old: '', new: '=1+1' },
    ],
  });
  // 31 March 2031 ends at 11:00 UTC in Auckland.
  await app.db.prisma.auditEntry.createMany({
    data: [entry('2031-03-31T10:59:59Z', 'ON-31'), entry('2031-03-31T11:00:00Z', 'ON-1')],
  });
});

const numbers = async (query: string) =>
  (await owner({ url: `/api/audit?search=Ann&${query}` }))
    .json<{ items: AuditEntry[] }>()
    .items.map(({ recordNumber }) => recordNumber);

test('the audit trail could be asked for no day, no person and no file', async () => {
  const { personId } = await app.db.prisma.auditEntry.findFirstOrThrow({ where: { recordNumber: 'ON-1' } });
  expect(await numbers('from=2031-04-01&to=2031-04-01')).toEqual(['ON-1']);
  expect(await numbers('from=2031-03-31&to=2031-03-31')).toEqual(['ON-31']);
  expect(await numbers(`personId=${personId ?? 0}&kind=part`)).toEqual(['ON-1', 'ON-31']);
  expect(await numbers('personId=999999')).toEqual([]);

  const csv = await owner({ url: '/api/audit.csv?search=ON-31' });
  expect(csv.headers['content-type']).toContain('text/csv');
  expect(parse(csv.body, { columns: true, bom: true })).toEqual([
    expect.objectContaining({ person: 'Ann, "the first"', field: 'areaMm2', old: '42000', new: '43000' }),
    expect.objectContaining({ field: 'description', old: '', new: "'=1+1" }),
  ]);
});

test('a day that is none is refused by its name', async () => {
  const answer = await owner({ url: '/api/audit?from=2031-02-30' });
  expect(answer.json()).toMatchObject({ status: 422, issues: [{ path: 'from' }] });
});
