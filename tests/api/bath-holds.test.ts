import type { Addition, BathHold, PageRef, StepOverride, Tank, Traveler } from '@huelot/contracts';
import { beforeAll, expect, test } from 'vitest';
import type { Ask } from '../support/app.ts';
import * as lab from '../support/lab.ts';
import { good, mainLine, ok, post, signOff } from '../support/main-line.ts';

const { db, as, operator, planner, releasedLots, opened, shop } = await mainLine();
let lena: Ask & { personId: number };
let omar: Ask & { personId: number };
/** The bath of the main line's first tank: nobody watches it. */
let plainBathId = 0;
const plainTank = shop.tanks[0]?.tankId ?? 0;

beforeAll(async () => {
  lena = await as('lab');
  omar = await as('operator');
  plainBathId = (await db.prisma.bath.findFirstOrThrow({ where: { tankId: plainTank } })).id;
  await lab.givePin(db, [planner.personId, omar.personId], '4711');
});

const hold = (bathId: number, extra: object = {}) =>
  post(lena, `/baths/${bathId}/holds`, { additionId: null, reason: 'cloudy since the morning', ...extra });
const release = (id: number, extra: object = {}) =>
  post(lena, `/bath-holds/${id}/release`, {
    temperatureC: null,
    mixedS: null,
    analysisId: null,
    note: '',
    ...extra,
  });
const issues = (reply: { json: <T>() => T }) =>
  reply.json<{ issues: { path: string }[] }>().issues.map(({ path }) => path);
const done = async (options: lab.EquippedLab, planned: Addition) =>
  lab.post<Addition>(
    lena,
    `/api/additions/${planned.id}/complete`,
    lab.asPlanned(planned, { checker: { personId: omar.personId, pin: '4711' } }),
  );

test('a bath on hold by judgement takes a planner’s word and reason at the tank, and the lot remembers', async () => {
  const [lot, other] = await releasedLots();
  const placed = await ok<BathHold>(hold(plainBathId), 201);
  expect(placed).toMatchObject({ addition: null, release: null, reason: 'cloudy since the morning' });
  const words = [`on hold by ${placed.placedBy}: cloudy since the morning`];
  const { bath } = await ok<Tank>(operator({ url: `/api/tanks/${plainTank}` }));
  expect(bath?.status).toMatchObject({ state: 'on-hold', needsOverride: true, reasons: words });
  const ready = await ok<{ items: { lotId: number; bathStatus: { state: string } | null }[] }>(
    operator({ url: '/api/tankside' }),
  );
  expect(ready.items.find(({ lotId }) => lotId === lot?.id)?.bathStatus?.state).toBe('on-hold');

  const traveler = await opened(lot?.id ?? 0);
  const url = `/steps/${traveler.steps[0]?.id ?? 0}/sign-off`;
  const body = signOff(24, good[1] ?? []);
  const refused = await post(operator, url, body);
  expect(refused.json()).toMatchObject({ code: 'override-needed', current: { state: 'on-hold' } });

  const permitters = await ok<{ items: { id: number }[] }>(operator({ url: '/api/override-approvers' }));
  const signers = await ok<{ items: { id: number }[] }>(operator({ url: '/api/signers' }));
  expect(permitters.items.map(({ id }) => id)).toContain(planner.personId);
  expect(permitters.items.map(({ id }) => id)).not.toContain(omar.personId);
  expect(signers.items.map(({ id }) => id)).not.toContain(planner.personId);
  const override = { reason: 'seen by eye, clear again', by: { personId: planner.personId, pin: '4711' } };
  const byOperator = { ...override, by: { ...override.by, personId: omar.personId } };
  const overrides = `/steps/${traveler.steps[0]?.id ?? 0}/overrides`;
  expect((await post(operator, overrides, byOperator)).statusCode).toBe(403);
  const given = await ok<StepOverride>(post(operator, overrides, override), 201);
  const signed = await ok<Traveler>(post(operator, url, { ...body, overrideId: given.id }), 201);
  expect(signed.steps[0]?.signOff).toMatchObject({
    bathState: 'on-hold',
    bathReasons: words,
    override: { reason: override.reason },
  });

  expect(issues(await release(placed.id))).toEqual(['note']);
  expect((await post(operator, `/bath-holds/${placed.id}/release`, { note: 'x' })).statusCode).toBe(403);
  const released = await ok<BathHold>(release(placed.id, { note: 'filtered, clear' }));
  expect(released.release).toMatchObject({ note: 'filtered, clear', temperatureC: null });
  expect((await release(placed.id, { note: 'again' })).statusCode).toBe(409);
  const next = await opened(other?.id ?? 0);
  const plain = await ok<Traveler>(post(operator, `/steps/${next.steps[0]?.id ?? 0}/sign-off`, body), 201);
  expect(plain.steps[0]?.signOff).toMatchObject({ bathState: 'not-watched', override: null });
});

test('an addition that mixes in holds the bath from its start; the confirming analysis in range offers the release', async () => {
  const of = await lab.equipLab(lena);
  const first = await lab.analyse(lena, of, { factor: 0.95 });
  const planned = await lab.plan(lena, of, first.id);
  expect(planned).toMatchObject({ needsMixing: true, hold: null });
  const booked = await done(of, planned);
  expect(booked.hold).toMatchObject({ addition: { number: booked.number }, release: null });
  expect(booked.hold?.fromAt).toBe(booked.done?.startedAt);
  const held = await lab.pageOf(lena, of.bath.id);
  expect(held.status).toMatchObject({ state: 'on-hold', overdue: true });
  expect(held.holds).toMatchObject([{ confirmedBy: null }]);
  const id = booked.hold?.id ?? 0;
  expect(issues(await release(id))).toEqual(['temperatureC']);
  expect(issues(await release(id, { temperatureC: 61 }))).toEqual(['mixedS']);
  expect(issues(await release(id, { temperatureC: 61, mixedS: -1 }))).toEqual(['mixedS']);

  const off = await lab.analyse(lena, of, { factor: 0.9, why: 'after-addition' });
  expect((await lab.pageOf(lena, of.bath.id)).holds).toMatchObject([{ confirmedBy: null }]);
  const right = await lab.post<{ id: number; number: string }>(lena, `/api/analyses/${off.id}/corrections`, {
    ...lab.titration(of, { factor: 1.01, why: 'after-addition' }),
    reason: 'burette misread',
  });
  expect((await lab.pageOf(lena, of.bath.id)).holds).toMatchObject([
    { confirmedBy: { id: right.id, bathTemperatureC: 60 } },
  ]);
  const foreign = await lab.analyse(lena, await lab.equipLab(lena));
  const mixed = { temperatureC: 61, mixedS: 2400 };
  expect(issues(await release(id, { ...mixed, analysisId: foreign.id }))).toEqual(['analysisId']);
  expect(issues(await release(id, { ...mixed, analysisId: off.id }))).toEqual(['analysisId']);
  const released = await ok<BathHold>(
    release(id, { ...mixed, analysisId: right.id, note: 'stirred by hand, sampled at once' }),
  );
  expect(released.release).toMatchObject({ ...mixed, analysis: { number: right.number } });
  const { status, holds } = await lab.pageOf(lena, of.bath.id);
  expect(status.state).toBe('in-range');
  expect(holds).toMatchObject([{ id, release: mixed }]);
  const history = await ok<{ items: { action: string }[] }>(
    lena({ url: `/api/history/bath/${of.bath.id}?limit=20` }),
  );
  const actions = history.items.map(({ action }) => action);
  expect(actions).toEqual(expect.arrayContaining(['put on hold', `released after ${booked.number}`]));
});

test('a hold from the beginning of an addition keeps its plan good, is not doubled, and stays with a correction', async () => {
  const of = await lab.equipLab(lena);
  const planned = await lab.plan(lena, of);
  const begun = await ok<BathHold>(hold(of.bath.id, { additionId: planned.id, reason: 'being added' }), 201);
  expect((await hold(of.bath.id, { additionId: planned.id })).statusCode).toBe(409);
  expect(issues(await hold(plainBathId, { additionId: planned.id }))).toEqual(['additionId']);
  const booked = await done(of, planned);
  expect(booked.hold?.id).toBe(begun.id);
  expect(issues(await hold(of.bath.id, { additionId: planned.id }))).toEqual(['additionId']);
  const corrected = await lab.post<Addition>(lena, `/api/additions/${booked.id}/corrections`, {
    ...lab.asPlanned(planned),
    reason: 'wrong temperature',
  });
  expect(corrected.hold).toMatchObject({ id: begun.id, release: null });

  await lab.release(lena, of.bath.id);
  await expect(db.prisma.bathHold.update({ where: { id: begun.id }, data: { mixedS: 1 } })).rejects.toThrow();
  await expect(db.prisma.bathHold.delete({ where: { id: begun.id } })).rejects.toThrow();

  const last = await ok<BathHold>(hold(of.bath.id), 201);
  const { bath } = await lab.pageOf(lena, of.bath.id);
  const waste = { volumeL: 400, category: 'alkaline', destination: 'Carrier North', document: '' };
  const dump = await lena({
    method: 'POST',
    url: `/api/baths/${of.bath.id}/dump`,
    headers: { 'if-match': `"${bath.version}"` },
    payload: { reason: 'carbonate', waste },
  });
  expect(dump.statusCode, dump.body).toBe(200);
  const { items } = await ok<{ items: BathHold[] }>(lena({ url: `/api/baths/${of.bath.id}/holds?limit=1` }));
  expect(items).toMatchObject([{ id: last.id, release: { note: 'the bath was dumped' } }]);
  expect((await hold(of.bath.id)).statusCode).toBe(409);
});

test('a begun addition that is withdrawn releases its bath with the reason; one that was booked may not be withdrawn', async () => {
  const of = await lab.equipLab(lena);
  const planned = await lab.plan(lena, of);
  await ok<BathHold>(hold(of.bath.id, { additionId: planned.id, reason: 'being added' }), 201);
  const own = await ok<BathHold>(hold(of.bath.id), 201);
  const withdraw = (id: number) => post(lena, `/additions/${id}/withdraw`, { reason: 'pump failed' });
  const withdrawn = await ok<Addition>(withdraw(planned.id));
  const note = `${planned.number} was withdrawn: nothing was added`;
  expect(withdrawn).toMatchObject({ state: 'withdrawn', hold: { release: { note, temperatureC: null } } });
  // What the lab holds by judgement stays held.
  const { status } = await lab.pageOf(lena, of.bath.id);
  expect(status.state).toBe('on-hold');
  expect(status.reasons.join()).toContain(own.reason);
  const history = await ok<{ items: { action: string; reason: string | null }[] }>(
    lena({ url: `/api/history/bath/${of.bath.id}?limit=20` }),
  );
  expect(history.items).toContainEqual(expect.objectContaining({ action: 'released', reason: note }));

  const again = await done(of, await lab.plan(lena, of));
  expect((await withdraw(again.id)).json()).toMatchObject({ code: 'immutable' });
  expect(again.hold?.release).toBeNull();
});

test('Today names each bath on hold once, with every reason, to lab and floor', async () => {
  const of = await lab.equipLab(lena);
  await ok<BathHold>(hold(of.bath.id, { reason: 'cloudy' }), 201);
  await ok<BathHold>(hold(of.bath.id, { reason: 'smells of bearing oil' }), 201);
  const held = async (ask: Ask) => {
    type Today = { sections: { key: string; items: { page: PageRef; title: string; detail: string }[] }[] };
    const { sections } = await ok<Today>(ask({ url: '/api/today' }));
    return sections.find(({ key }) => key === 'bathHolds')?.items;
  };
  const page = { kind: 'bath', id: of.bath.id };
  for (const ask of [lena, omar]) {
    expect(
      (await held(ask))?.filter((one) => one.page.kind === 'bath' && one.page.id === of.bath.id),
    ).toMatchObject([
      { title: `${of.tank.code}, ${of.bath.number}`, detail: 'cloudy; smells of bearing oil' },
    ]);
  }
  await lab.release(lena, of.bath.id);
  expect((await held(omar))?.map((one) => one.page)).not.toContainEqual(page);
});
