import type { Bath } from '@huelot/contracts';
import { expect, it } from 'vitest';
import { testApp } from '../../../../../tests/support/app.ts';
import * as lab from '../../../../../tests/support/lab.ts';

const { as } = await testApp();
const lena = await as('lab', 'planner');
const start = (tankId: number, madeUpAt: string) =>
  lena({ method: 'POST', url: `/api/tanks/${tankId}/baths`, payload: { notes: '', madeUpAt } });

it('a bath that stood already could only begin now, so that its history could not be brought', async () => {
  const tank = await lab.addTank(lena);
  const reply = await start(tank.id, '2026-03-02T06:30:00+01:00');
  expect(reply.statusCode).toBe(201);
  const bath = reply.json<Bath>();
  expect(bath.madeUpAt).toBe('2026-03-02T05:30:00.000Z');
  const page = await lab.putSetup(lena, bath.id, lab.kohSetup);
  expect(page.life.days).toBeGreaterThan(30);
  const column = { component: 'KOH', unit: 'massFraction', isPercent: true, referenceTemperatureC: null };
  const notebook = (csv: string) =>
    lena({
      method: 'POST',
      url: `/api/baths/${bath.id}/notebook`,
      payload: {
        csv,
        mapping: {
          sampledAt: 'Day',
          dayOrder: 'year-month-day',
          decimal: 'point',
          separator: 'comma',
          analyst: null,
          notes: null,
          values: [{ column: 'KOH', ...column, standardUncertainty: null }],
        },
      },
    });
  const imported = await notebook('Day,KOH\n2026-03-10,49.5\n2026-03-17,49.1');
  expect(imported.json()).toEqual({ analyses: 2, results: 2 });
  // The same file a second time, a sample twice in one file, and figures that cannot be bring nothing.
  for (const csv of [
    'Day,KOH\n2026-03-10,49.5\n2026-03-17,49.1',
    'Day,KOH\n2026-03-24,49.5\n2026-03-24,49.5',
    'Day,KOH\n2026-03-24,-5',
    'Day,KOH\n2026-03-24,97',
  ])
    expect((await notebook(csv)).statusCode).toBe(422);
  expect((await notebook('Day,KOH\n2026-03-10,49.5\n2026-03-31,49')).body).toMatch(
    /imported already, as A-\d+/,
  );
  expect((await lab.pageOf(lena, bath.id)).life.analyses).toBe(2);
});

it('a bath is made up neither in the future nor before the one that stood there was dumped', async () => {
  const tank = await lab.addTank(lena);
  const tomorrow = new Date(Date.now() + 86_400_000).toISOString();
  expect((await start(tank.id, tomorrow)).statusCode).toBe(422);
  const first = (await start(tank.id, '2026-01-05T08:00:00Z')).json<Bath>();
  const dumped = await lena({
    method: 'POST',
    url: `/api/baths/${first.id}/dump`,
    headers: { 'if-match': `"${first.version}"` },
    payload: { reason: 'spent', waste: null },
  });
  expect(dumped.statusCode).toBe(200);
  const early = await start(tank.id, '2026-02-01T08:00:00Z');
  expect(early.statusCode).toBe(422);
  expect(early.body).toContain(first.number);
  expect((await start(tank.id, new Date().toISOString())).statusCode).toBe(201);
});

it('nothing falls due any more in a bath that was dumped', async () => {
  const of = await lab.equipLab(lena);
  await lab.analyse(lena, of);
  const { bath } = await lab.pageOf(lena, of.bath.id);
  const waste = { volumeL: 400, category: 'alkaline', destination: 'Carrier', document: '' };
  await lena({
    method: 'POST',
    url: `/api/baths/${bath.id}/dump`,
    headers: { 'if-match': `"${bath.version}"` },
    payload: { reason: 'spent', waste },
  });
  expect((await lab.pageOf(lena, bath.id)).status.nextDueAt).toBeNull();
});

it('a fill that was over years ago could only be dumped today, so that the next had no past either', async () => {
  const tank = await lab.addTank(lena);
  const first = (await start(tank.id, '2026-01-05T08:00:00Z')).json<Bath>();
  await lab.putSetup(lena, first.id, lab.kohSetup);
  const column = { component: 'KOH', unit: 'massFraction', isPercent: true, referenceTemperatureC: null };
  const values = [{ column: 'KOH', ...column, standardUncertainty: null }];
  const mapping = {
    ...{ sampledAt: 'Day', dayOrder: 'year-month-day', decimal: 'point', separator: 'comma' },
    ...{ analyst: null, notes: null, values },
  };
  const brought = await lena({
    method: 'POST',
    url: `/api/baths/${first.id}/notebook`,
    payload: { csv: 'Day,KOH\n2026-02-10,49.5', mapping },
  });
  expect(brought.statusCode, brought.body).toBe(201);
  const waste = { volumeL: 400, category: 'alkaline', destination: 'Carrier', document: '' };
  const dump = async (dumpedAt: string) => {
    const { bath } = await lab.pageOf(lena, first.id);
    return lena({
      method: 'POST',
      url: `/api/baths/${first.id}/dump`,
      headers: { 'if-match': `"${bath.version}"` },
      payload: { reason: 'spent', waste, dumpedAt },
    });
  };
  const tomorrow = new Date(Date.now() + 86_400_000).toISOString();
  for (const [at, why] of [
    [tomorrow, 'future'],
    ['2026-01-04T08:00:00Z', 'was made up'],
    ['2026-02-01T08:00:00Z', 'the sample of A-'],
  ] as const) {
    const reply = await dump(at);
    expect(reply.statusCode).toBe(422);
    expect(reply.json()).toMatchObject({ issues: [{ path: 'dumpedAt' }] });
    expect(reply.body).toContain(why);
  }
  expect((await dump('2026-03-01T08:00:00Z')).json()).toMatchObject({ dumpedAt: '2026-03-01T08:00:00.000Z' });
  expect((await start(tank.id, '2026-03-01T10:00:00Z')).statusCode).toBe(201);
});

it('more was dumped than the tank can hold', async () => {
  const { id } = await lab.addTank(lena);
  const bath = await lab.addBath(lena, id);
  const dump = (volumeL: number) =>
    lena({
      method: 'POST',
      url: `/api/baths/${bath.id}/dump`,
      headers: { 'if-match': `"${bath.version}"` },
      payload: {
        reason: 'spent',
        waste: { volumeL, category: 'alkaline', destination: 'own treatment', document: '' },
      },
    });
  const refused = await dump(1261);
  expect(refused.statusCode).toBe(422);
  expect(refused.body).toContain('waste.volumeL');
  expect(refused.body).toContain('to its brim it holds 1260 L');
  expect((await dump(400)).statusCode).toBe(200);
});
