import type {
  CompetenceBoard,
  Competence,
  getToday,
  LotSummary,
  LotTrace,
  Traveler,
} from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import type { z } from 'zod';
import type { Ask } from '../support/app.ts';
import { equipLab, givePin, titration } from '../support/lab.ts';
import { good, mainLine, ok, post, signOff } from '../support/main-line.ts';

const { db, as, operator, quality, planner, releasedLots, opened, signAll } = await mainLine();
let owner: Ask & { personId: number };
beforeAll(async () => {
  owner = await as('owner');
  await givePin(db, [quality.personId], '4711');
});

const day = (ago: number) => new Date(Date.now() - ago * 86_400_000).toISOString().slice(0, 10);
const fit = (personId: number, extra: object = {}) => ({
  ...{ personId, activity: 'sign', family: null, fromOn: day(30), untilOn: null },
  ...{ evidence: 'two weeks beside the foreman', fileId: null, ...extra },
});
const grant = (personId: number, extra: object = {}) =>
  ok<Competence>(post(quality, '/competence', fit(personId, extra)), 201);
const board = () => ok<CompetenceBoard>(quality({ url: '/api/competence' }));
const turn = async (on: boolean) => {
  const { rule } = await board();
  const headers = { 'if-match': `"${rule.version}"` };
  await ok(owner({ method: 'PUT', url: '/api/competence-rule', headers, payload: { on } }));
};
const withdraw = ({ id }: Competence, ask: Ask = quality) =>
  post(ask, `/competence/${id}/withdraw`, { reason: 'left the line' });
const waiting = async () => {
  const [lot] = (await releasedLots()) as [LotSummary];
  return { lot, step: ((await opened(lot.id)).steps[0] as Traveler['steps'][number]).id };
};
const sign = (step: number, extra: object = {}) =>
  post(operator, `/steps/${step}/sign-off`, signOff(24, good[1] ?? [], extra));
const word = (subjectId: number, extra: object = {}, ask: Ask = quality) =>
  post(ask, '/competence-overrides', {
    ...{ activity: 'sign', subjectId, personId: operator.personId, reason: 'nobody else on the shift' },
    ...{ by: null, ...extra },
  });
const refusal = async (reply: ReturnType<Ask>) => {
  const { statusCode, ...answer } = await reply;
  return { statusCode, ...answer.json<{ code: string; current?: object; issues?: object[] }>() };
};

describe('a shop that wrote nothing down', () => {
  it('was stopped by a rule that nobody turned on', async () => {
    const [lot] = (await releasedLots()) as [LotSummary];
    expect((await signAll(lot.id)).status).toBe('complete');
    const { step } = await waiting();
    expect(await refusal(word(step))).toMatchObject({ statusCode: 409, code: 'conflict' });
  });
  it('had its rule turned on by whoever liked to, or on an older state', async () => {
    const { rule } = await board();
    const put = (ask: Ask, version: number) =>
      ask({
        ...{ method: 'PUT', url: '/api/competence-rule', payload: { on: true } },
        headers: { 'if-match': `"${version}"` },
      });
    expect((await put(quality, rule.version)).statusCode).toBe(403);
    expect((await put(owner, rule.version + 7)).statusCode).toBe(412);
    expect((await board()).rule.on).toBe(false);
  });
});

describe('with the rule on', () => {
  beforeAll(() => turn(true));

  it('a step was signed by somebody nobody ever said was fit; then by a word that is on the trace', async () => {
    const { lot, step } = await waiting();
    expect(await refusal(sign(step))).toMatchObject({
      ...{ statusCode: 409, code: 'not-competent' },
      current: { activity: 'sign', subjectId: step, personId: operator.personId },
    });
    expect(await refusal(word(step, {}, operator))).toMatchObject({ statusCode: 403 });
    expect(await refusal(word(step, {}, planner))).toMatchObject({ statusCode: 403 });
    expect(
      await refusal(word(step, { by: { personId: quality.personId, pin: '0000' } }, operator)),
    ).toMatchObject({ code: 'wrong-credentials' });
    expect(await refusal(word(99_999))).toMatchObject({ issues: [{ path: 'subjectId' }] });
    await ok(word(step, { by: { personId: quality.personId, pin: '4711' } }, operator), 201);
    const signed = await ok<Traveler>(sign(step), 201);
    expect(signed.steps[0]?.signOff?.outsideCompetence).toMatchObject({ reason: 'nobody else on the shift' });
    const trace = await ok<LotTrace>(quality({ url: `/api/lots/${lot.id}/trace` }));
    expect(trace.travelers[0]?.steps[0]?.signOff?.outsideCompetence).not.toBeNull();
    // The word was for one step.
    expect(
      await refusal(post(operator, `/steps/${signed.steps[1]?.id}/sign-off`, signOff(24, []))),
    ).toMatchObject({
      code: 'not-competent',
    });
  });

  it('a word for one person let another sign', async () => {
    const { step } = await waiting();
    await ok(word(step, { personId: planner.personId }), 201);
    expect(await refusal(sign(step))).toMatchObject({ code: 'not-competent' });
  });

  it('what is over, to come, withdrawn, or of another family or activity counted', async () => {
    const { step } = await waiting();
    const { personId } = operator;
    await grant(personId, { untilOn: day(1) });
    await grant(personId, { fromOn: day(-1) });
    await grant(personId, { family: 'caustic-colour' });
    await grant(personId, { activity: 'analyse' });
    await ok(withdraw(await grant(personId)));
    expect(await refusal(sign(step))).toMatchObject({ code: 'not-competent' });
    const standing = await grant(personId, { family: 'interference-colour', untilOn: day(-10) });
    const signed = await ok<Traveler>(sign(step), 201);
    expect(signed.steps[0]?.signOff?.outsideCompetence).toBeNull();
    expect(standing.state).toBe('ends-soon');
    await ok(withdraw(standing));
  });

  it('an analysis went by without a word, or one word counted for two', async () => {
    const analyst = await as('lab', 'planner');
    const equipped = await equipLab(analyst);
    const analysed = () =>
      analyst({
        method: 'POST',
        url: `/api/baths/${equipped.bath.id}/analyses`,
        payload: titration(equipped),
      });
    const subject = { activity: 'analyse', personId: analyst.personId };
    expect(await refusal(analysed())).toMatchObject({
      ...{ code: 'not-competent', current: { ...subject, subjectId: equipped.bath.id } },
    });
    await ok(word(equipped.bath.id, subject), 201);
    await ok(analysed(), 201);
    expect(await refusal(analysed())).toMatchObject({ code: 'not-competent' });
    await grant(analyst.personId, { activity: 'analyse', family: 'caustic-colour' });
    await ok(analysed(), 201);
  });

  it('was granted by oneself, changed, withdrawn twice or taken away', async () => {
    expect(await refusal(post(quality, '/competence', fit(quality.personId)))).toMatchObject({
      code: 'not-allowed',
    });
    expect(await refusal(post(operator, '/competence', fit(planner.personId)))).toMatchObject({
      statusCode: 403,
    });
    for (const [extra, path] of [
      [{ untilOn: day(31) }, 'untilOn'],
      [{ evidence: ' ' }, 'evidence'],
      [{ fileId: 99_999 }, 'fileId'],
      [{ personId: 99_999 }, 'personId'],
    ] as const)
      expect(
        (await refusal(post(quality, '/competence', fit(planner.personId, extra)))).issues?.[0],
      ).toMatchObject({
        path,
      });
    const one = await grant(planner.personId);
    await expect(
      db.prisma.competence.update({ where: { id: one.id }, data: { untilOn: new Date('2099-01-01') } }),
    ).rejects.toThrow(/stands as it was granted/);
    await ok(withdraw(one));
    expect(await refusal(withdraw(one))).toMatchObject({ code: 'conflict' });
    await expect(db.prisma.competence.delete({ where: { id: one.id } })).rejects.toThrow();
    const shown = (await board()).items.find(({ id }) => id === one.id);
    expect(shown).toMatchObject({ state: 'withdrawn', withdrawn: { reason: 'left the line' } });
  });

  it('ran out without quality being told, or was told of after it was granted anew', async () => {
    const today = async () =>
      (await ok<z.output<typeof getToday.reply>>(quality({ url: '/api/today' }))).sections.find(
        ({ key }) => key === 'competence',
      )?.items ?? [];
    const anna = await as('lab');
    await grant(anna.personId, { activity: 'approve', untilOn: day(-20) });
    const mine = async () => (await today()).filter(({ page }) => page.id === anna.personId);
    expect(await mine()).toMatchObject([{ page: { kind: 'person' }, urgent: false }]);
    await grant(anna.personId, { activity: 'approve', untilOn: day(-400) });
    expect(await mine()).toEqual([]);
  });
});
