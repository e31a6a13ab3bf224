import type { ApprovalRules, CouponSeries, getToday, RecipeRevision } from '@huelot/contracts';
import { beforeAll, expect, it } from 'vitest';
import type { z } from 'zod';
import { testApp, type TestApp } from '../../../../../tests/support/app.ts';
import { proveRevision } from '../../../../../tests/support/evidence.ts';
import { head, pathsOf, route } from '../../../../../tests/support/recipes.ts';

let app: TestApp;
let owner: Awaited<ReturnType<TestApp['as']>>;
let ownerName: string;
beforeAll(async () => {
  app = await testApp();
  owner = await app.as('owner');
  // Somebody who may not approve is no second person.
  await app.as('estimator', 'planner', 'operator');
  ownerName = (await app.db.prisma.person.findUniqueOrThrow({ where: { id: owner.personId } })).displayName;
});

const start = async (name: string) => {
  const payload = { ...head(name), changeNote: 'first', steps: route() };
  const reply = await owner({ method: 'POST', url: '/api/recipes', payload });
  const revision = reply.json<RecipeRevision>();
  await proveRevision(app.db, { revisionId: revision.id });
  return revision;
};
const approve = ({ id, version }: RecipeRevision, payload: object = {}, ask = owner) =>
  ask({
    method: 'POST',
    url: `/api/recipe-revisions/${id}/approve`,
    headers: { 'if-match': `"${version}"` },
    payload,
  });
const approvalOf = async ({ id }: RecipeRevision) =>
  (await owner({ url: `/api/recipe-revisions/${id}/approval` })).json<{ as: string; words: string }>();
const allow = async (selfApproval: boolean) => {
  const { version } = (await owner({ url: '/api/approval-rules' })).json<ApprovalRules>();
  const reply = await owner({
    method: 'PUT',
    url: '/api/approval-rules',
    headers: { 'if-match': `"${version}"` },
    payload: { selfApproval },
  });
  expect(reply.statusCode, reply.body).toBe(200);
};

it('a shop of one could never approve, and nothing said what to do about it', async () => {
  const draft = await start('Alone');
  const refused = await approve(draft, { typedName: ownerName });
  expect(refused.statusCode).toBe(403);
  expect(refused.body).toContain('Setup, Approvals');
  expect(await approvalOf(draft)).toMatchObject({ as: 'nobody' });
  expect((await app.as('quality')).personId).toBeGreaterThan(0);
  await app.db.prisma.person.updateMany({
    where: { roles: { has: 'quality' } },
    data: { active: false },
  });

  const waiting = async () =>
    (await owner({ url: '/api/today' }))
      .json<z.output<typeof getToday.reply>>()
      .sections.flatMap(({ key, items }) => (key === 'approvals' ? items.map(({ detail }) => detail) : []));
  expect(await waiting()).toEqual([]);
  await allow(true);
  expect(await waiting()).toEqual(['Alone']);
  expect(await approvalOf(draft)).toMatchObject({ as: 'author' });
  for (const payload of [{}, { typedName: 'Somebody Else' }])
    expect(pathsOf(await approve(draft, payload))).toEqual(['typedName']);
  const approved = await approve(draft, { typedName: `  ${ownerName.toUpperCase()} ` });
  expect(approved.statusCode, approved.body).toBe(200);
  expect(approved.json()).toMatchObject({
    selfApproved: true,
    approvedBy: { id: owner.personId },
    writers: [{ id: owner.personId }],
  });
  const history = await owner({ url: `/api/history/recipe/${draft.recipe.id}` });
  expect(history.json<{ items: { action: string }[] }>().items[0]?.action).toBe(
    'approved revision 1: approved by its author, no second person',
  );
});

it('an author approved although a second person could', async () => {
  await allow(true);
  const draft = await start('Two of us');
  const second = await app.as('lab');
  expect(await approvalOf(draft)).toMatchObject({
    as: 'nobody',
    words: expect.stringMatching(/lab-/) as string,
  });
  expect((await approve(draft, { typedName: ownerName })).statusCode).toBe(403);
  // Who wrote none of it signs as the second person, and types no name.
  expect(pathsOf(await approve(draft, { typedName: 'anybody' }, second))).toEqual(['typedName']);
  expect((await approve(draft, {}, second)).json()).toMatchObject({ selfApproved: false });
  await app.db.prisma.person.update({ where: { id: second.personId }, data: { active: false } });
});

it('an invitation that nobody took up does not stand in the way', async () => {
  await allow(true);
  const draft = await start('Invited');
  await app.db.prisma.person.create({ data: { name: 'later', displayName: 'Later', roles: ['quality'] } });
  expect((await approve(draft, { typedName: ownerName })).statusCode).toBe(200);
});

it('the database stores no approval by the author in silence, nor against the setting', async () => {
  await allow(false);
  const draft = await start('By hand');
  const write = (data: object) =>
    app.db.prisma.recipeRevision.update({
      where: { id: draft.id },
      data: { status: 'approved', approvedById: owner.personId, approvedAt: new Date(), ...data },
    });
  await expect(write({})).rejects.toThrow(/second_person/);
  await expect(write({ selfApproved: true })).rejects.toThrow(/does not allow approval by the author/);
  const other = await app.db.prisma.person.create({
    data: { name: 'other', displayName: 'Other', roles: [] },
  });
  await allow(true);
  await expect(write({ selfApproved: true, approvedById: other.id })).rejects.toThrow(/second_person/);
});

it('a coupon series of a shop of one is approved the same way', async () => {
  await allow(true);
  const material = await app.db.prisma.material.create({
    data: {
      ...{ name: 'Steel', baseMetal: 'steel', densityKgPerM3: 7850, heatCapacityJPerKgK: 490 },
      ...{ source: 'test', evidence: 'M' },
    },
  });
  const trial = { mark: '1', temperatureC: 60, voltageV: 2.2, timeS: 300, strength: 0.5 };
  const made = await owner({
    method: 'POST',
    url: '/api/coupon-series',
    payload: {
      ...{ code: 'CS-1', materialId: material.id, name: 'Blue', contents: 'hot-caustic', component: 'KOH' },
      ...{ unit: 'massFraction', referenceTemperatureC: null, preparation: '', notes: '', changeNote: '' },
      trials: [{ ...trial, outcome: 'interference', lab: null, madeOn: '2026-03-01', madeBy: 'Ada' }],
    },
  });
  expect(made.statusCode, made.body).toBe(201);
  const { id, version } = made.json<CouponSeries>();
  const sign = (payload: object) =>
    owner({
      method: 'POST',
      url: `/api/coupon-series/${id}/approve`,
      headers: { 'if-match': `"${version}"` },
      payload,
    });
  expect(pathsOf(await sign({}))).toEqual(['typedName']);
  const approved = await sign({ typedName: ownerName });
  expect(approved.json()).toMatchObject({ status: 'approved', selfApproved: true });
  const history = await owner({ url: `/api/history/coupons/${id}` });
  expect(history.body).toContain('approved by its author, no second person');
});
