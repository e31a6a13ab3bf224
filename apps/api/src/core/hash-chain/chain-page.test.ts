import type { ChainCheck, ChainSeal, ChainState } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { testApp, type Ask } from '../../../../../tests/support/app.ts';
import { readPdf } from '../../../../../tests/support/pdf.ts';
import { parseSeal } from './index.ts';

const { app, as, db } = await testApp();
const quality = await as('quality');
const post = (ask: Ask, url: string, payload: object = {}) =>
  ask({ method: 'POST', url: `/api${url}`, payload });
const state = async () => (await quality({ url: '/api/chain' })).json<ChainState>();

async function check(seal = ''): Promise<ChainCheck> {
  const begun = await post(quality, '/chain/checks', { seal });
  expect(begun.statusCode, begun.body).toBe(202);
  for (;;) {
    const { check: newest } = await state();
    if (newest?.id === begun.json<ChainCheck>().id && newest.state !== 'running') return newest;
  }
}
const addCustomer = async (name: string) => {
  const owner = await as('owner');
  const payload = {
    name,
    currency: 'EUR',
    taxNumber: '',
    taxRatePercent: 0,
    terms: '',
    notes: '',
    contacts: [],
    addresses: [],
  };
  const reply = await post(owner, '/customers', payload);
  expect(reply.statusCode, reply.body).toBe(201);
};

test('the page says how far the chain is, checks it, and keeps what was found', async () => {
  await addCustomer('Row Works');
  expect(await state()).toMatchObject({ keyAtHand: true, entries: 0, check: null, lastWholeAt: null });
  expect((await state()).waiting).toBeGreaterThan(0);
  const found = await check();
  expect(found).toMatchObject({ state: 'done', done: 1, seal: null, verdict: { whole: true, faults: [] } });
  expect(await state()).toMatchObject({ waiting: 0, lastWholeAt: found.finishedAt, check: { id: found.id } });
});

test('a seal is printed with its digest as text, listed, and a check compares the record with it', async () => {
  const made = await post(quality, '/chain/seals');
  expect(made.statusCode, made.body).toBe(201);
  const seal = made.json<ChainSeal>();
  const pdf = await quality({ url: `/api/chain/seals/${seal.id}/pdf` });
  expect(pdf.headers['content-type']).toBe('application/pdf');
  const text = (await readPdf(pdf.rawPayload)).map((page) => page.text).join('\n');
  expect(parseSeal(text)).toEqual({ position: seal.position, digest: seal.digest });
  const owner = await as('owner');
  const reprint = await owner({ url: `/api/chain/seals/${seal.id}/pdf` });
  expect(Buffer.compare(reprint.rawPayload, pdf.rawPayload)).toBe(0);
  const listed = (await quality({ url: '/api/chain/seals' })).json<{ items: ChainSeal[] }>();
  expect(listed.items).toEqual([seal]);

  expect(await check(text)).toMatchObject({ seal: seal.text, verdict: { whole: true } });
  const another = `${seal.position}-${'ab'.repeat(32)}`;
  expect(await check(another)).toMatchObject({
    verdict: { whole: false, faults: [{ kind: 'seal', position: seal.position }] },
  });
  expect((await check()).verdict?.whole).toBe(true);
});

test('words that are no seal are refused by their field', async () => {
  const reply = await post(quality, '/chain/checks', { seal: '12-abc' });
  expect(reply.json()).toMatchObject({ status: 422, issues: [{ path: 'seal' }] });
});

test('a check that is under way was begun a second time', async () => {
  await db.pool.query(`insert into "chain_check" ("startedBy") values ('somebody else')`);
  const reply = await post(quality, '/chain/checks');
  expect(reply.json()).toMatchObject({
    status: 409,
    detail: expect.stringContaining('being checked already') as string,
  });
  // One whose process was killed is not waited for.
  await db.pool.query(
    `update "chain_check" set "aliveAt" = now() - interval '3 minutes' where "finishedAt" is null`,
  );
  expect((await state()).check?.state).toBe('broken-off');
  expect((await check()).verdict?.whole).toBe(true);
});

test('without the key nothing is compared, and the page says so', async () => {
  const { chainKeys } = app;
  app.chainKeys = null;
  try {
    expect((await state()).keyAtHand).toBe(false);
    for (const url of ['/chain/checks', '/chain/seals'])
      expect((await post(quality, url)).json()).toMatchObject({ status: 409, code: 'conflict' });
  } finally {
    app.chainKeys = chainKeys;
  }
});

test.each(['estimator', 'planner', 'operator', 'lab'] as const)(
  'a %s sees nothing of the chain',
  async (role) => {
    const ask = await as(role);
    expect((await ask({ url: '/api/chain' })).statusCode).toBe(403);
    expect((await post(ask, '/chain/checks')).statusCode).toBe(403);
  },
);
