import type { NewStep, RecipeEvidence, RecipeRevision } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { couponsFor, proveRevision } from '../../../../../tests/support/evidence.ts';
import { colour, pathsOf, recipeDesk, route } from '../../../../../tests/support/recipes.ts';
import { judgeEvidence } from './judge.ts';

const { app, author, second, operator, started, act } = await recipeDesk();
const { db, as } = app;
const owner = await as('owner');

const material = (name: string, condition = '', baseMetal = 'titanium') =>
  db.prisma.material.create({
    data: {
      name,
      condition,
      baseMetal,
      densityKgPerM3: 4510,
      heatCapacityJPerKgK: 524,
      source: 'test',
      evidence: 'M',
    },
  });
const grade2 = await material('Titanium grade 2', 'annealed');
const grade5 = await material('Titanium grade 5', 'annealed');
const worked = await material('Titanium grade 2', 'cold worked');

const evidenceOf = async ({ id }: RecipeRevision) =>
  (await operator({ url: `/api/recipe-revisions/${id}/evidence` })).json<RecipeEvidence>();
const cite = (revision: RecipeRevision, payload: object, ask = author) =>
  ask({
    method: 'POST',
    url: `/api/recipe-revisions/${revision.id}/evidence`,
    payload: { grade: 'measured', comparerIds: [], expiresOn: null, note: '', ...payload },
  });
const approve = (revision: RecipeRevision, payload: object = {}) =>
  act(second, { revision, verb: 'approve', payload });
const verdict = async (revision: RecipeRevision, { id }: { id: number }) => {
  const [found] = await judgeEvidence(db.execute, [
    { recipeRevisionId: revision.id, materialId: id, partId: null },
  ]);
  if (found === undefined) throw new Error('one was asked for');
  return found;
};
const made = async (name: string, steps: NewStep[] = route()) => {
  const revision = await started(name, steps);
  const { seriesId } = await couponsFor(db, { revisionId: revision.id, materialId: grade2.id });
  return { revision, seriesId };
};

describe('a recipe revision that cites coupons', () => {
  it('was taken as proved on every alloy of its metal', async () => {
    const { revision, seriesId } = await made('Own alloy');
    expect((await cite(revision, { seriesId })).statusCode).toBe(201);
    expect(await verdict(revision, grade2)).toMatchObject({
      state: 'proved',
      words: expect.stringContaining('3 coupons') as string,
    });
    expect(await verdict(revision, grade5)).toMatchObject({
      state: 'nearest',
      words:
        'proved on Titanium grade 2, annealed (3 coupons); this part is Titanium grade 5, annealed: none',
    });
  });
  it('was taken as proved on the same alloy in another condition', async () => {
    const { revision, seriesId } = await made('Other condition');
    await cite(revision, { seriesId });
    expect((await verdict(revision, worked)).state).toBe('nearest');
  });
  it('went on proving after its voltage was changed to one that no coupon saw', async () => {
    const { revision, seriesId } = await made('Changed volts');
    await cite(revision, { seriesId });
    const changed = await author({
      method: 'PUT',
      url: `/api/recipe-revisions/${revision.id}`,
      headers: { 'if-match': `"${revision.version}"` },
      payload: { changeNote: 'more', steps: route(110) },
    });
    expect(changed.statusCode).toBe(200);
    expect(await verdict(revision, grade2)).toMatchObject({ state: 'none' });
    const { items } = await evidenceOf(revision);
    expect(items[0]?.gaps.join()).toContain('109.5 to 110.5 V');
  });
  it('was proved by coupons of another kind of bath', async () => {
    const { revision, seriesId } = await made('Other bath', [{ ...colour(28), contents: 'dilute-acid' }]);
    const other = await started('Salt', [colour(28)]);
    await cite(other, { seriesId });
    expect((await verdict(other, grade2)).state).toBe('none');
    expect((await cite(revision, { seriesId })).statusCode).toBe(201);
    expect((await verdict(revision, grade2)).state).toBe('proved');
  });
  it('was proved by coupons that took no colour', async () => {
    const { revision, seriesId } = await made('Bare');
    await db.prisma.$executeRaw`alter table "coupon_trial" disable trigger user`;
    await db.prisma.couponTrial.updateMany({ where: { seriesId }, data: { outcome: 'none' } });
    await db.prisma.$executeRaw`alter table "coupon_trial" enable trigger user`;
    await cite(revision, { seriesId });
    expect((await verdict(revision, grade2)).state).toBe('none');
  });
});

describe('coupons of a series', () => {
  const changed = async (seriesId: number, data: { outcome?: string; grade?: string; labL?: null }) => {
    const bare = data.labL === null ? { labA: null, labB: null } : {};
    await db.prisma.$executeRaw`alter table "coupon_trial" disable trigger user`;
    await db.prisma.couponTrial.updateMany({ where: { seriesId }, data: { ...data, ...bare } });
    await db.prisma.$executeRaw`alter table "coupon_trial" enable trigger user`;
  };
  const compared = { grade: 'compared', comparerIds: [] as number[] };
  beforeAll(() => (compared.comparerIds = [author.personId, second.personId]));

  it.each(['powdery', 'etched', 'spotted', 'bath-coloured'])(
    'that came out %s proved a colour',
    async (outcome) => {
      const { revision, seriesId } = await made(`Fault ${outcome}`);
      await changed(seriesId, { outcome });
      await cite(revision, { seriesId });
      expect((await verdict(revision, grade2)).state).toBe('none');
    },
  );

  it.each([
    ['photo', {}],
    ['word', { labL: null }],
  ] as const)('known by %s were counted because two people signed for the series', async (grade, also) => {
    const { revision, seriesId } = await made(`Coupons by ${grade}`);
    await changed(seriesId, { grade, ...also });
    for (const body of [compared, { grade: 'measured' }]) {
      const reply = await cite(revision, { seriesId, ...body });
      expect(reply.json()).toMatchObject({ status: 422, issues: [{ path: 'grade' }] });
    }
    expect((await cite(revision, { seriesId, grade: 'photo' })).statusCode).toBe(201);
    expect((await verdict(revision, grade2)).state).toBe('none');
    expect((await evidenceOf(revision)).limits).toEqual([]);
  });

  it('known by photo were counted beside one that was measured', async () => {
    const { revision, seriesId } = await made('One measured');
    await changed(seriesId, { grade: 'photo' });
    await db.prisma.$executeRaw`alter table "coupon_trial" disable trigger user`;
    await db.prisma.couponTrial.updateMany({ where: { seriesId, position: 1 }, data: { grade: 'measured' } });
    await db.prisma.$executeRaw`alter table "coupon_trial" enable trigger user`;
    await cite(revision, { seriesId });
    expect((await verdict(revision, grade2)).words).toContain('1 coupon');
  });

  it('that were entered before grades were asked stopped proving', async () => {
    const { revision, seriesId } = await made('Old coupons');
    expect(await db.prisma.couponTrial.count({ where: { seriesId, grade: null } })).toBe(3);
    await cite(revision, { seriesId });
    expect((await verdict(revision, grade2)).state).toBe('proved');
  });
});

describe('evidence that does not count', () => {
  let revision: RecipeRevision;
  let seriesId: number;
  beforeAll(async () => ({ revision, seriesId } = await made('Counting')));

  it('was a draft of coupons', async () => {
    const { authorId, code } = await db.prisma.couponSeries.findUniqueOrThrow({ where: { id: seriesId } });
    const draft = await db.prisma.couponSeries.create({
      data: {
        ...{
          code,
          revision: 2,
          name: 'next',
          materialId: grade2.id,
          contents: 'mild-salt',
          component: 'KOH',
        },
        ...{ unit: 'massFraction', authorId, writerIds: [authorId] },
      },
    });
    const refused = await cite(revision, { seriesId: draft.id });
    expect([refused.statusCode, pathsOf(refused)]).toEqual([422, ['seriesId']]);
  });
  it.each([
    ['word', 'in words only'],
    ['photo', 'photo with a reference card'],
  ])('was known by %s', async (grade, said) => {
    const own = await started(`Known by ${grade}`);
    expect((await cite(own, { seriesId, grade })).statusCode).toBe(201);
    expect(await verdict(own, grade2)).toMatchObject({
      state: 'none',
      words: expect.stringContaining(said) as string,
    });
  });
  it('was compared by one person, named twice', async () => {
    const one = second.personId;
    const refused = await cite(revision, { seriesId, grade: 'compared', comparerIds: [one, one] });
    expect([refused.statusCode, pathsOf(refused)]).toEqual([422, ['comparerIds']]);
  });
  it('was compared by somebody who is not here', async () => {
    const refused = await cite(revision, {
      seriesId,
      grade: 'compared',
      comparerIds: [second.personId, 999_999],
    });
    expect([refused.statusCode, pathsOf(refused)]).toEqual([422, ['comparerIds.1']]);
  });
  it('had expired already when it was cited', async () => {
    const refused = await cite(revision, { seriesId, expiresOn: '2020-01-01' });
    expect([refused.statusCode, pathsOf(refused)]).toEqual([422, ['expiresOn']]);
  });
  it('expired since', async () => {
    const own = await started('Expires');
    await cite(own, { seriesId, expiresOn: '2099-01-01' });
    expect((await verdict(own, grade2)).state).toBe('proved');
    await db.prisma.recipeEvidence.updateMany({
      where: { revisionId: own.id },
      data: { expiresOn: new Date('2026-01-01') },
    });
    expect(await verdict(own, grade2)).toMatchObject({
      state: 'none',
      words: expect.stringContaining('expired on 2026-01-01') as string,
    });
  });
  it('was of a metal that the recipe is not for', async () => {
    const niobium = await material('Niobium', '', 'niobium');
    const other = await couponsFor(db, { revisionId: revision.id, materialId: niobium.id });
    const refused = await cite(revision, { seriesId: other.seriesId });
    expect([refused.statusCode, pathsOf(refused)]).toEqual([422, ['seriesId']]);
  });
  it('was cited twice', async () => {
    await cite(revision, { seriesId });
    expect((await cite(revision, { seriesId })).statusCode).toBe(409);
  });
  it('was cited by whoever may not', async () => {
    expect((await cite(revision, { seriesId }, operator)).statusCode).toBe(403);
  });
});

describe('the approval of a recipe', () => {
  it('was given on nothing, without a reason', async () => {
    const revision = await started('On nothing');
    const refused = await approve(revision);
    expect([refused.statusCode, refused.json<{ code: string }>().code, pathsOf(refused)]).toEqual([
      409,
      'not-proved',
      ['unprovedReason'],
    ]);
    expect((await approve(revision, { unprovedReason: '  ' })).statusCode).toBe(422);
    expect((await approve(revision, { unprovedReason: 'first article on Monday' })).statusCode).toBe(200);
    const { exceptions } = await evidenceOf(revision);
    expect(exceptions).toMatchObject([
      { place: 'approval', reason: 'first article on Monday', finding: 'No evidence is cited.' },
    ]);
  });
  it('was given at 110 V to coupons of 28 V, without a name', async () => {
    const { seriesId } = await made('Coupons of 28 V');
    const revision = await started('At 110 V', route(110));
    await cite(revision, { seriesId });
    const refused = await approve(revision);
    expect(refused.json<{ detail: string }>().detail).toContain('109.5 to 110.5 V');
    expect(refused.statusCode).toBe(409);
  });
  it('kept a reason that nobody needed', async () => {
    const { revision, seriesId } = await made('Needs none');
    await cite(revision, { seriesId });
    const refused = await approve(revision, { unprovedReason: 'to be safe' });
    expect([refused.statusCode, pathsOf(refused)]).toEqual([422, ['unprovedReason']]);
    expect((await approve(revision)).statusCode).toBe(200);
  });
  it('let its author approve on nothing by a reason, where somebody else may approve', async () => {
    const revision = await started('Own on nothing');
    const refused = await act(author, {
      revision,
      verb: 'approve',
      payload: { unprovedReason: 'I know it' },
    });
    expect(refused.statusCode).toBe(403);
  });
});

describe('evidence behind an approved revision', () => {
  it('was taken away as if it had never been', async () => {
    const { revision, seriesId } = await made('Taken away');
    const { items } = (await cite(revision, { seriesId })).json<RecipeEvidence>();
    const id = items[0]?.id ?? 0;
    expect((await approve(revision)).statusCode).toBe(200);
    expect(
      (await author({ method: 'DELETE', url: `/api/recipe-evidence/${id}`, payload: {} })).statusCode,
    ).toBe(409);
    await expect(db.prisma.recipeEvidence.delete({ where: { id } })).rejects.toThrow();
    await expect(
      db.prisma.recipeEvidence.update({ where: { id }, data: { alloy: 'Titanium grade 5' } }),
    ).rejects.toThrow();
    const withdrawn = await second({
      method: 'POST',
      url: `/api/recipe-evidence/${id}/withdraw`,
      payload: { reason: 'the thermometer was wrong' },
    });
    expect(withdrawn.json<RecipeEvidence>().items[0]?.withdrawn?.reason).toBe('the thermometer was wrong');
    expect((await verdict(revision, grade2)).state).toBe('none');
    expect(
      (
        await second({
          method: 'POST',
          url: `/api/recipe-evidence/${id}/withdraw`,
          payload: { reason: 'again' },
        })
      ).statusCode,
    ).toBe(409);
  });
  it('was lost with a draft that was discarded, and kept the draft from going', async () => {
    const { revision, seriesId } = await made('Discarded');
    await proveRevision(db, { revisionId: revision.id, materialId: grade5.id });
    await approve(revision);
    const next = (await act(author, { revision, verb: 'draft' })).json<RecipeRevision>();
    expect((await cite(next, { seriesId })).statusCode).toBe(201);
    const gone = await author({
      method: 'DELETE',
      url: `/api/recipe-revisions/${next.id}`,
      headers: { 'if-match': `"${next.version}"` },
      payload: {},
    });
    expect(gone.statusCode, gone.body).toBe(200);
    expect(await db.prisma.recipeEvidence.count({ where: { revisionId: next.id } })).toBe(0);
  });
  it('had to be cited again one by one in the next draft', async () => {
    const { revision, seriesId } = await made('Carried');
    await cite(revision, { seriesId });
    await approve(revision);
    const next = (await act(author, { revision, verb: 'draft' })).json<RecipeRevision>();
    expect((await evidenceOf(next)).before).toMatchObject({ revision: 1, count: 1 });
    const carried = await author({
      method: 'POST',
      url: `/api/recipe-revisions/${next.id}/evidence/carry`,
      payload: {},
    });
    expect(carried.json<RecipeEvidence>().provedOn).toMatchObject([
      { alloy: 'Titanium grade 2', coupons: 3 },
    ]);
    expect(
      (await author({ method: 'POST', url: `/api/recipe-revisions/${next.id}/evidence/carry`, payload: {} }))
        .statusCode,
    ).toBe(409);
  });
  it('went on counting after its series was retired', async () => {
    const { revision, seriesId } = await made('Retired');
    await cite(revision, { seriesId });
    const { version } = await db.prisma.couponSeries.findUniqueOrThrow({ where: { id: seriesId } });
    await owner({
      method: 'POST',
      url: `/api/coupon-series/${seriesId}/retire`,
      headers: { 'if-match': `"${version}"` },
      payload: { reason: 'wrong bath' },
    });
    expect((await verdict(revision, grade2)).state).toBe('none');
  });
});
