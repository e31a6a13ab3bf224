import type { LotTrace, ParkedSignOff, StepOverride, Traveler } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { givePin } from '../support/lab.ts';
import { good, mainLine, ok, post, reading, signOff } from '../support/main-line.ts';

const { db, as, operator, planner, quality, releasedLots, opened, shop } = await mainLine();

interface Parked {
  traveler: Traveler;
  parked: ParkedSignOff | null;
}
const hold = (lotId: number) => ok(post(quality, `/lots/${lotId}/hold`, { reason: 'shade looked at' }), 201);
const auditOf = (lotId: number) =>
  db.prisma.auditEntry.findMany({ where: { recordKind: 'lot', recordId: lotId }, orderBy: { id: 'asc' } });

async function firstStep() {
  const [lot] = await releasedLots();
  const traveler = await opened(lot?.id ?? 0);
  return { lotId: lot?.id ?? 0, steps: traveler.steps, stepId: traveler.steps[0]?.id ?? 0 };
}
const done = ({ personId }: { personId: number }, extra: object = {}) =>
  signOff(24, good[1] ?? [], { personId, ...extra });

test('what one person signed was booked to the next who signed in', async () => {
  const { stepId } = await firstStep();
  const [omar, ines] = [await as('operator'), await as('operator')];
  const headers = { 'idempotency-key': `lost-answer-${stepId}` };
  for (const path of ['sign-off', 'parked-sign-offs'])
    expect((await post(ines, `/steps/${stepId}/${path}`, done(omar), headers)).json()).toMatchObject({
      status: 409,
      code: 'other-person',
    });
  expect(await db.prisma.stepSignOff.count({ where: { stepId } })).toBe(0);
  expect(await db.prisma.parkedSignOff.count({ where: { stepId } })).toBe(0);
  const body = done(omar);
  const first = await ok<Traveler>(post(omar, `/steps/${stepId}/sign-off`, body, headers), 201);
  // The answer was lost and the tablet went to Ines: to her it is not hers, to Omar it is what it was.
  expect((await post(ines, `/steps/${stepId}/sign-off`, body, headers)).json()).toMatchObject({
    code: 'other-person',
  });
  const again = await ok<Traveler>(post(omar, `/steps/${stepId}/sign-off`, body, headers), 201);
  expect(again).toEqual(first);
});

test('what was done before a hold was thrown away with its readings', async () => {
  const { lotId, stepId } = await firstStep();
  const body = done(operator, { note: 'bath a little cloudy' });
  await hold(lotId);
  expect((await post(operator, `/steps/${stepId}/sign-off`, body)).json()).toMatchObject({ code: 'on-hold' });
  const { parked } = await ok<Parked>(post(operator, `/steps/${stepId}/parked-sign-offs`, body), 201);
  expect(parked).toMatchObject({
    countIn: 24,
    note: 'bath a little cloudy',
    readings: [{ quantity: 'temperatureC', value: 60 }],
    refusal: expect.stringContaining('on hold') as string,
    decision: null,
  });
  const waiting = await ok<{ items: ParkedSignOff[] }>(quality({ url: '/api/parked-sign-offs' }));
  expect(waiting.items.map(({ id }) => id)).toContain(parked?.id);

  const settle = `/parked-sign-offs/${parked?.id}/settle`;
  const decision = { decision: 'accepted', reason: 'done at 02:47, the hold came at 03:10' };
  expect((await post(operator, settle, decision)).statusCode).toBe(403);
  expect((await post(quality, settle, { ...decision, reason: ' ' })).statusCode).toBe(422);
  const accepted = await ok<ParkedSignOff>(post(quality, settle, decision));
  expect(accepted.decision).toMatchObject({ kind: 'accepted', reason: decision.reason });
  expect((await post(quality, settle, decision)).statusCode).toBe(409);
  const { steps, lot } = await opened(lotId);
  expect(steps[0]?.signOff).toMatchObject({
    personId: operator.personId,
    doneAt: body.doneAt,
    accepted: { reason: decision.reason },
  });
  expect(lot.held).toBe(true);
  expect((await auditOf(lotId)).map(({ action }) => action)).toEqual(
    expect.arrayContaining([
      expect.stringContaining('handed step 1'),
      expect.stringContaining('signed step 1'),
      expect.stringContaining('accepted step 1'),
    ]),
  );
});

test('a step done twice is set aside with a reason, and is never removed', async () => {
  const { lotId, stepId } = await firstStep();
  const ines = await as('operator');
  await ok(post(operator, `/steps/${stepId}/sign-off`, done(operator)), 201);
  const body = done(ines);
  const { parked } = await ok<Parked>(post(ines, `/steps/${stepId}/parked-sign-offs`, body), 201);
  const settle = `/parked-sign-offs/${parked?.id}/settle`;
  expect((await post(quality, settle, { decision: 'accepted', reason: 'both did' })).json()).toMatchObject({
    code: 'already-signed',
  });
  await ok(post(quality, settle, { decision: 'set-aside', reason: 'Ines saw the same load' }));
  const ofLot = await ok<{ items: ParkedSignOff[] }>(
    quality({ url: `/api/parked-sign-offs?lotId=${lotId}` }),
  );
  expect(ofLot.items).toMatchObject([
    { person: expect.any(String) as string, decision: { kind: 'set-aside' } },
  ]);
  await expect(db.prisma.parkedSignOff.delete({ where: { id: parked?.id ?? 0 } })).rejects.toThrow();
  await expect(
    db.prisma.parkedSignOff.update({ where: { id: parked?.id ?? 0 }, data: { refusal: 'nothing' } }),
  ).rejects.toThrow();
});

test('a step signed on a superseded revision counts for the same step of the current one', async () => {
  const { lotId, stepId } = await firstStep();
  const body = done(operator);
  await ok(
    post(planner, `/lots/${lotId}/travelers`, {
      changeNote: 'other tanks looked at',
      recipeRevisionId: null,
      tanks: shop.tanks,
      supplyId: shop.supplyId,
    }),
    201,
  );
  const { parked, traveler } = await ok<Parked>(
    post(operator, `/steps/${stepId}/parked-sign-offs`, body),
    201,
  );
  expect(parked?.refusal).toContain('superseded');
  expect(traveler.revision).toBe(2);
  await ok(
    post(quality, `/parked-sign-offs/${parked?.id}/settle`, {
      decision: 'accepted',
      reason: 'the same step',
    }),
  );
  expect((await opened(lotId)).steps[0]?.signOff?.personId).toBe(operator.personId);
});

test('what can be signed is signed, not parked; sent twice it is one', async () => {
  const { stepId } = await firstStep();
  const body = done(operator);
  const headers = { 'idempotency-key': `queue-${stepId}-00` };
  const send = () => ok<Parked>(post(operator, `/steps/${stepId}/parked-sign-offs`, body, headers), 201);
  const [first, again] = [await send(), await send()];
  expect(again).toEqual(first);
  expect(first.parked).toBeNull();
  expect(first.traveler.steps[0]?.signOff?.person).toBeTruthy();
});

test('an override counted as given before its PIN was proved', async () => {
  const { lotId, steps, stepId } = await firstStep();
  await givePin(db, [planner.personId], '4711');
  const tank = await db.prisma.travelerStep.findUniqueOrThrow({ where: { id: stepId } });
  const bath = await db.prisma.bath.findFirstOrThrow({ where: { tankId: tank.tankId ?? 0, dumpedAt: null } });
  const lena = await as('lab');
  const held = await ok<{ id: number }>(
    post(lena, `/baths/${bath.id}/holds`, { reason: 'cloudy', additionId: null }),
    201,
  );
  const overrides = `/steps/${stepId}/overrides`;
  const by = (pin: string) => ({ reason: 'seen by eye', by: { personId: planner.personId, pin } });
  expect((await post(operator, overrides, by('9999'))).json()).toMatchObject({ code: 'wrong-credentials' });
  expect((await post(operator, overrides, { reason: '', by: null })).statusCode).toBe(422);
  expect((await opened(lotId)).steps[0]?.override).toBeNull();
  const given = await ok<StepOverride>(post(operator, overrides, by('4711')), 201);
  expect((await opened(lotId)).steps[0]?.override).toMatchObject({ id: given.id, reason: 'seen by eye' });

  // For another lot, another step or a second time it is worth nothing.
  const other = await firstStep();
  const path = `/steps/${other.stepId}/sign-off`;
  const elsewhere = await post(operator, path, done(operator, { overrideId: given.id }));
  expect(elsewhere.json()).toMatchObject({ code: 'override-needed' });
  const sign = `/steps/${stepId}/sign-off`;
  const signed = await ok<Traveler>(post(operator, sign, done(operator, { overrideId: given.id })), 201);
  expect(signed.steps[0]?.signOff?.override).toMatchObject({ reason: 'seen by eye' });
  expect(signed.steps[0]?.override).toBeNull();
  expect((await post(operator, `/steps/${steps[1]?.id ?? 0}/overrides`, by('4711'))).json()).toMatchObject({
    code: 'conflict',
  });
  await expect(
    db.prisma.stepOverride.update({ where: { id: given.id }, data: { signOffId: null } }),
  ).rejects.toThrow();
  await ok(
    post(lena, `/bath-holds/${held.id}/release`, {
      note: 'filtered',
      temperatureC: null,
      mixedS: null,
      analysisId: null,
    }),
  );
});

test('an override given for an overdue bath does not serve once it is on hold, nor when it has expired', async () => {
  const { stepId } = await firstStep();
  const tank = await db.prisma.travelerStep.findUniqueOrThrow({ where: { id: stepId } });
  const bath = await db.prisma.bath.findFirstOrThrow({ where: { tankId: tank.tankId ?? 0, dumpedAt: null } });
  const lena = await as('lab');
  await ok(post(lena, `/baths/${bath.id}/holds`, { reason: 'cloudy again', additionId: null }), 201);
  const row = (extra: object) =>
    db.prisma.stepOverride.create({
      data: {
        stepId,
        bathId: bath.id,
        bathState: 'on-hold',
        reason: 'one load',
        grantedById: planner.personId,
        askedById: operator.personId,
        expiresAt: new Date(Date.now() + 60_000),
        ...extra,
      },
    });
  const tries = [
    [await row({ bathState: 'stop' }), 'while the bath was stopped'],
    [await row({ expiresAt: new Date(Date.now() - 60_000) }), 'expired'],
    [await row({ grantedById: operator.personId }), 'may no longer'],
  ] as const;
  for (const [{ id }, words] of tries) {
    const answer = await post(operator, `/steps/${stepId}/sign-off`, done(operator, { overrideId: id }));
    expect(answer.json<{ detail: string }>().detail).toContain(words);
  }
  const fresh = await row({});
  await ok(post(operator, `/steps/${stepId}/sign-off`, done(operator, { overrideId: fresh.id })), 201);
  const open = await db.prisma.bathHold.findFirstOrThrow({ where: { bathId: bath.id, releasedAt: null } });
  await ok(
    post(lena, `/bath-holds/${open.id}/release`, {
      note: 'filtered',
      temperatureC: null,
      mixedS: null,
      analysisId: null,
    }),
  );
});

test('a bath that was never filled could be overridden and worked in', async () => {
  const { stepId } = await firstStep();
  const tank = await db.prisma.travelerStep.findUniqueOrThrow({ where: { id: stepId } });
  const bath = await db.prisma.bath.findFirstOrThrow({ where: { tankId: tank.tankId ?? 0, dumpedAt: null } });
  const makeUp = await db.prisma.addition.create({
    data: {
      ...{ number: 'A-EMPTY', bathId: bath.id, kind: 'make-up', state: 'planned', edited: false },
      ...{ steps: [], planReason: '', bathVersion: bath.version, plannedById: planner.personId },
    },
  });
  const words = /is not filled yet: its make-up A-EMPTY is planned and not done/;
  const signed = await post(operator, `/steps/${stepId}/sign-off`, done(operator));
  expect(signed.json()).toMatchObject({ status: 409, detail: expect.stringMatching(words) as string });
  const lena = await as('lab', 'operator');
  const override = await post(lena, `/steps/${stepId}/overrides`, { reason: 'in a hurry', by: null });
  expect(override.json()).toMatchObject({ status: 409, detail: expect.stringMatching(words) as string });
  await db.prisma.addition.update({
    where: { id: makeUp.id },
    data: { state: 'withdrawn', withdrawnById: planner.personId, withdrawReason: 'filled long ago' },
  });
  await ok(post(operator, `/steps/${stepId}/sign-off`, done(operator)), 201);
});

test('a parked signature went under the name that its person has now', async () => {
  const { lotId, stepId } = await firstStep();
  const ines = await as('operator');
  const { displayName } = await db.prisma.person.findUniqueOrThrow({ where: { id: ines.personId } });
  await hold(lotId);
  const { parked } = await ok<Parked>(post(ines, `/steps/${stepId}/parked-sign-offs`, done(ines)), 201);
  await db.prisma.person.update({
    where: { id: ines.personId },
    data: { displayName: 'Ines Since-Married' },
  });
  const path = `/parked-sign-offs/${parked?.id ?? 0}/settle`;
  await ok(post(quality, path, { decision: 'accepted', reason: 'done before the hold' }));
  const traveler = await opened(lotId);
  expect(traveler.steps[0]?.signOff?.person).toBe(displayName);
  for (const { personName, action } of await auditOf(lotId)) {
    expect(personName).not.toBe('Ines Since-Married');
    expect(action).not.toContain('Ines Since-Married');
  }
});

test('the list of who may sign for somebody else was a copy of the role table', async () => {
  const { stepId } = await firstStep();
  const [clerk, mate] = [await as('estimator'), await as('lab')];
  await givePin(db, [clerk.personId, mate.personId], '4711');
  const signer = ({ personId }: { personId: number }) => ({ signer: { personId, pin: '4711' } });
  const path = `/steps/${stepId}/sign-off`;
  expect((await post(operator, path, done(operator, signer(clerk)))).statusCode).toBe(403);
  const signed = await ok<Traveler>(post(operator, path, done(operator, signer(mate))), 201);
  expect(signed.steps[0]?.signOff?.personId).toBe(mate.personId);
});

test('a tablet whose clock is ten minutes fast could not sign', async () => {
  const [fast, slow] = [await firstStep(), await firstStep()];
  for (const [{ stepId }, minutes] of [
    [fast, 10],
    [slow, -10],
  ] as const) {
    const tabletNow = new Date(Date.now() + minutes * 60_000).toISOString();
    const body = done(operator, { doneAt: tabletNow });
    const headers = { 'huelot-sent-at': tabletNow };
    const signed = await ok<Traveler>(post(operator, `/steps/${stepId}/sign-off`, body, headers), 201);
    const { doneAt = '', clockDifferenceS = 0, enteredAt = '' } = signed.steps[0]?.signOff ?? {};
    expect(Math.abs(clockDifferenceS - minutes * 60)).toBeLessThan(6);
    expect(Math.abs(Date.parse(doneAt) - Date.parse(enteredAt))).toBeLessThan(6000);
  }
  const { stepId } = await firstStep();
  const ahead = new Date(Date.now() + 600_000).toISOString();
  const path = `/steps/${stepId}/sign-off`;
  expect((await post(operator, path, done(operator, { doneAt: ahead }))).json()).toMatchObject({
    issues: [{ path: 'doneAt' }],
  });
});

test('a step signed faster than its time raised nothing', async () => {
  const { lotId, stepId } = await firstStep();
  const path = `/steps/${stepId}/sign-off`;
  const refused = await post(operator, path, done(operator, { shortTimeReason: '' }));
  expect(refused.json()).toMatchObject({
    issues: [{ path: 'shortTimeReason', message: expect.stringContaining('planned for 5 min') as string }],
  });
  const reason = 'cleaned twice, the first load was not stamped';
  await ok(post(operator, path, done(operator, { shortTimeReason: reason })), 201);
  const trace = await ok<LotTrace>(quality({ url: `/api/lots/${lotId}/trace` }));
  expect(trace.travelers[0]?.steps[0]?.signOff?.shortTime).toMatchObject({ reason });
});

test('scrap at a step needed no reason; missing and surplus pieces could not be said', async () => {
  const { steps, stepId } = await firstStep();
  const path = `/steps/${stepId}/sign-off`;
  const scrap = { countOut: 21, rejectCount: 1, countDifference: -2 };
  const silent = await post(operator, path, done(operator, scrap));
  expect(silent.json()).toMatchObject({ issues: [{ path: 'countReason' }] });
  const wrong = await post(operator, path, done(operator, { ...scrap, countOut: 23, countReason: 'x' }));
  expect(wrong.json()).toMatchObject({ issues: [{ path: 'countOut' }] });
  const told = { ...scrap, countReason: 'one bent, two not on the rack' };
  const signed = await ok<Traveler>(post(operator, path, done(operator, told)), 201);
  expect(signed.steps[0]?.signOff).toMatchObject({ countDifference: -2, countReason: told.countReason });
  const next = `/steps/${steps[1]?.id ?? 0}/sign-off`;
  const found = (out: number, extra: number) =>
    signOff(21, [], { countOut: out, countDifference: extra, countReason: 'found in the tank' });
  expect((await post(operator, next, found(25, 4))).json()).toMatchObject({
    issues: [{ path: 'countDifference' }],
  });
  await ok(post(operator, next, found(23, 2)), 201);
});

test('counts once signed could not be corrected by anybody', async () => {
  const { lotId, steps, stepId } = await firstStep();
  const scrap = { countOut: 20, rejectCount: 4, countReason: 'bent' };
  const signed = await ok<Traveler>(post(operator, `/steps/${stepId}/sign-off`, done(operator, scrap)), 201);
  const signOffId = signed.steps[0]?.signOff?.id ?? 0;
  const correct = (extra: object) =>
    post(operator, `/sign-offs/${signOffId}/count-corrections`, {
      rejectCount: 1,
      countDifference: 0,
      reason: 'three were only stained',
      ...extra,
    });
  expect((await correct({ rejectCount: 25 })).json()).toMatchObject({ issues: [{ path: 'rejectCount' }] });
  expect((await correct({ rejectCount: 4 })).json()).toMatchObject({ issues: [{ path: 'rejectCount' }] });
  expect((await correct({ countDifference: 9 })).json()).toMatchObject({
    issues: [{ path: 'countDifference' }],
  });
  expect((await correct({ reason: ' ' })).statusCode).toBe(422);
  const right = await ok<Traveler>(correct({}), 201);
  expect(right.steps[0]?.signOff).toMatchObject({
    countOut: 20,
    rejectCount: 4,
    countCorrections: [{ countOut: 23, rejectCount: 1, reason: 'three were only stained' }],
  });
  const lot = () => db.prisma.lot.findUniqueOrThrow({ where: { id: lotId } });
  expect((await lot()).rejectedCount).toBe(1);
  expect((await auditOf(lotId)).at(-1)).toMatchObject({ reason: 'three were only stained' });
  await expect(db.prisma.stepCountCorrection.deleteMany()).rejects.toThrow();

  // The next step goes by it, and ends what can be corrected.
  const next = `/steps/${steps[1]?.id ?? 0}/sign-off`;
  expect((await post(operator, next, signOff(20, []))).statusCode).toBe(422);
  await ok(post(operator, next, signOff(23, [])), 201);
  expect((await correct({ rejectCount: 0 })).json()).toMatchObject({
    code: 'conflict',
    detail: expect.stringContaining('Step 2 is signed already') as string,
  });
});

test('a step without readings that was signed by mistake could not be marked by anybody', async () => {
  const { lotId, steps, stepId } = await firstStep();
  await ok(post(operator, `/steps/${stepId}/sign-off`, done(operator)), 201);
  const second = steps[1]?.id ?? 0;
  const signed = await ok<Traveler>(post(operator, `/steps/${second}/sign-off`, signOff(24, [])), 201);
  const mistaken = signed.steps[1]?.signOff;
  expect(mistaken?.readings).toEqual([]);
  const correct = (who: typeof operator, body: object) =>
    post(who, `/sign-offs/${mistaken?.id ?? 0}/done-corrections`, body);
  const reason = 'tapped on the wrong lot';

  const hour = 3_600_000;
  const ahead = new Date(Date.now() + hour).toISOString();
  const before = new Date(Date.now() - 400 * 24 * hour).toISOString();
  for (const doneAt of [ahead, before, mistaken?.doneAt, 'yesterday'])
    expect((await correct(quality, { doneAt, reason })).json()).toMatchObject({
      status: 422,
      issues: [{ path: 'doneAt' }],
    });
  expect((await correct(quality, { doneAt: null, reason: ' ' })).statusCode).toBe(422);
  expect((await correct(planner, { doneAt: null, reason })).statusCode).toBe(403);
  expect(await db.prisma.stepDoneCorrection.count()).toBe(0);

  const marked = await ok<Traveler>(correct(quality, { doneAt: null, reason }), 201);
  expect(marked.steps[1]?.signOff).toMatchObject({
    doneAt: mistaken?.doneAt,
    person: mistaken?.person,
    doneCorrections: [{ doneAt: null, reason, by: expect.any(String) as string }],
  });
  // The lot waits, whatever was signed since; said twice it is refused.
  expect(marked.holds.map((one) => one.reason)).toEqual([
    expect.stringMatching(/^Step 2, .*was signed by mistake and not done\. tapped on the wrong lot$/),
  ]);
  const third = `/steps/${steps[2]?.id ?? 0}/sign-off`;
  expect((await post(operator, third, signOff(24, []))).json()).toMatchObject({ code: 'on-hold' });
  expect((await correct(quality, { doneAt: null, reason })).json()).toMatchObject({
    issues: [{ path: 'doneAt', message: 'is what stands there already' }],
  });
  await expect(db.prisma.stepDoneCorrection.deleteMany()).rejects.toThrow();
  await expect(db.prisma.stepDoneCorrection.updateMany({ data: { reason: 'x' } })).rejects.toThrow();

  // Done after all, while the lot still waits: the newest stands, in the traveler, the search and the trace.
  const found = async () =>
    (
      await ok<{ items: { signOffId: number; notDone: boolean }[] }>(quality({ url: '/api/trace' }))
    ).items.find(({ signOffId }) => signOffId === mistaken?.id);
  expect((await found())?.notDone).toBe(true);
  const since = new Date().toISOString();
  const again = await ok<Traveler>(correct(quality, { doneAt: since, reason: 'done now' }), 201);
  expect(again.steps[1]?.signOff?.doneCorrections.map(({ doneAt }) => doneAt)).toEqual([null, since]);
  expect((await found())?.notDone).toBe(false);
  const { events } = await ok<LotTrace>(quality({ url: `/api/lots/${lotId}/trace` }));
  expect(events.filter(({ kind }) => kind === 'correction').map(({ title }) => title)).toEqual([
    'Step 2: signed by mistake, it was not done',
    'Step 2: when it was really done is corrected',
  ]);
  expect((await auditOf(lotId)).slice(-3)).toMatchObject([
    { action: 'put on hold' },
    { action: expect.stringContaining('it was not done') as string, reason },
    { action: expect.stringContaining('corrected when step 2') as string, reason: 'done now' },
  ]);
});

test('In and Out are the server’s, shared by all, and a step’s time runs no longer than the load was in', async () => {
  const { lotId, steps, stepId } = await firstStep();
  const ines = await as('operator');
  await ok(post(operator, `/steps/${stepId}/in`, { agoS: 400 }));
  expect((await post(ines, `/steps/${stepId}/in`, { agoS: 0 })).json()).toMatchObject({ code: 'conflict' });
  expect((await post(operator, `/steps/${steps[1]?.id ?? 0}/in`, { agoS: 0 })).json()).toMatchObject({
    detail: expect.stringContaining('Step 1 comes first') as string,
  });
  await ok(post(ines, `/steps/${stepId}/out`, { agoS: 50 }));
  const { run } = (await opened(lotId)).steps[0] ?? {};
  expect(run).toMatchObject({ inBy: expect.stringContaining('operator') as string });
  expect((Date.parse(run?.outAt ?? '') - Date.parse(run?.inAt ?? '')) / 1000).toBeCloseTo(350, -1);
  // 350 s for a step of 300 s: no question, though everything was entered within a second.
  await ok(post(operator, `/steps/${stepId}/sign-off`, done(operator, { shortTimeReason: '' })), 201);
  expect((await post(operator, `/steps/${stepId}/set-back`, {})).json()).toMatchObject({
    code: 'already-signed',
  });
  await expect(db.prisma.stepRun.deleteMany({ where: { stepId } })).rejects.toThrow();
});

test('a clock set back keeps its stamps on record', async () => {
  const { lotId, stepId } = await firstStep();
  await ok(post(operator, `/steps/${stepId}/in`, { agoS: 10 }));
  await ok(post(operator, `/steps/${stepId}/set-back`, {}));
  expect((await opened(lotId)).steps[0]?.run).toBeNull();
  await ok(post(operator, `/steps/${stepId}/in`, { agoS: 0 }));
  expect(await db.prisma.stepRun.count({ where: { stepId } })).toBe(2);
  expect((await auditOf(lotId)).map(({ action }) => action)).toEqual(
    expect.arrayContaining([expect.stringContaining('reset the clock of step 1')]),
  );
});

test('half-typed readings are kept for each person and go with the signature', async () => {
  const { lotId, stepId } = await firstStep();
  const draft = {
    readings: [{ ...reading('temperatureC', 58), value: 58 }],
    rejectCount: 0,
    countDifference: 0,
    countReason: '',
    reason: '',
    note: 'half',
  };
  const ines = await as('operator');
  const keep = (ask: typeof ines, note: string) =>
    ok(ask({ method: 'PUT', url: `/api/steps/${stepId}/draft`, payload: { ...draft, note } }));
  await keep(operator, 'half');
  await keep(ines, 'mine');
  await keep(ines, 'mine, longer');
  const { drafts = [] } = (await opened(lotId)).steps[0] ?? {};
  expect(drafts.map((one) => one.draft.note)).toEqual(['mine, longer', 'half']);
  await ok(post(operator, `/steps/${stepId}/sign-off`, done(operator)), 201);
  await keep(ines, 'too late');
  expect((await opened(lotId)).steps[0]?.drafts).toEqual([]);
});

test('“t93”, “L93” and a scanned address found nothing at the tank', async () => {
  const [lot] = await releasedLots();
  const traveler = await opened(lot?.id ?? 0);
  const digits = (number: string) => Number(number.replace(/\D/g, ''));
  const asked = [
    `L${digits(traveler.lot.number)}`,
    `t${digits(traveler.number)}`,
    `http://10.0.0.7/t/${traveler.number}/1`,
    traveler.lot.number,
    traveler.head.part.number.toLowerCase(),
  ];
  for (const search of asked) {
    const { items } = await ok<{ items: { lotId: number }[] }>(
      operator({ url: `/api/tankside?search=${encodeURIComponent(search)}` }),
    );
    expect(
      items.map(({ lotId }) => lotId),
      search,
    ).toContain(lot?.id);
  }
});
