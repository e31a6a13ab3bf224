import type { AuditEntry, ColourStandard, NewColourStandard } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Ask, testApp, type TestApp } from '../../../../../tests/support/app.ts';
import { post } from '../../../../../tests/support/lab.ts';
import { partBasis } from '../../../../../tests/support/parts.ts';
import { readInForce } from './index.ts';

type Person = Awaited<ReturnType<TestApp['as']>>;
const { as, db } = await testApp();
let author: Person;
let second: Person;
let operator: Person;
let customerId: number;
beforeAll(async () => {
  [author, second, operator] = [await as('estimator'), await as('quality'), await as('operator')];
  ({ customerId } = await partBasis(db));
});

let count = 0;
const standard = (extra: Partial<NewColourStandard> = {}): NewColourStandard => ({
  code: `PEACOCK-${(count += 1)}`,
  customerId,
  name: 'Peacock blue',
  target: { L: 40, a: 8, b: -30 },
  light: { L: 46, a: 4, b: -24 },
  dark: { L: 35, a: 11, b: -34 },
  conditions: { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 },
  instrument: 'SP-1',
  tolerance: { from: 'ends', deltaE: 3, kL: 1, kC: 1, kH: 1 },
  sample: { name: 'plate 3', keptAt: 'drawer 2' },
  grade: 'measured',
  agreedBy: 'M. Oakley',
  agreedOn: '2026-03-02',
  expiresOn: null,
  photoId: null,
  notes: '',
  changeNote: '',
  ...extra,
});
const figures = { target: null, light: null, dark: null, conditions: null, instrument: '', tolerance: null };
const url = '/api/colour-standards';
const started = (extra: Partial<NewColourStandard> = {}) =>
  post<ColourStandard>(author, url, standard(extra));
const send = (
  ask: Ask,
  { revisionId, version }: ColourStandard,
  extra: { verb?: string; payload?: object; method?: 'PUT' | 'DELETE' } = {},
) =>
  ask({
    method: extra.method ?? 'POST',
    url: `/api/colour-standard-revisions/${revisionId}${extra.verb ? `/${extra.verb}` : ''}`,
    headers: { 'if-match': `"${version}"` },
    payload: extra.payload ?? {},
  });
const approved = async (extra: Partial<NewColourStandard> = {}) => {
  const reply = await send(second, await started(extra), { verb: 'approve' });
  expect(reply.statusCode, reply.body).toBe(200);
  return reply.json<ColourStandard>();
};
const read = async (id: number, query = '') =>
  (await operator({ url: `${url}/${id}${query}` })).json<ColourStandard>();
const issuesOf = (reply: Awaited<ReturnType<Ask>>) =>
  (reply.json<{ issues?: { path: string }[] }>().issues ?? []).map(({ path }) => path);

describe('a draft', () => {
  it('keeps what was agreed as it was typed, and says who wrote it', async () => {
    const input = standard();
    const draft = await post<ColourStandard>(author, url, input);
    const { code, target, light, dark, conditions, tolerance, sample, grade, agreedBy, agreedOn } = input;
    const typed = { code, target, light, dark, conditions, tolerance, sample, grade, agreedBy, agreedOn };
    expect(draft).toMatchObject({ ...typed, status: 'draft', revision: 1, basis: 'lab-and-sample' });
    expect(draft.writers.map(({ id }) => id)).toEqual([author.personId]);
    expect(await read(draft.standardId)).toEqual(draft);
  });

  it.each([
    ['figures without what they were read under', { conditions: null }, 'conditions'],
    ['figures without a tolerance', { tolerance: null }, 'tolerance'],
    ['figures that nobody knows the origin of', { instrument: ' ' }, 'instrument'],
    ['a light end that is darker', { light: { L: 30, a: 4, b: -24 } }, 'light.L'],
    ['a dark end that is lighter', { dark: { L: 60, a: 4, b: -24 } }, 'dark.L'],
    ['a tolerance from ends that there are none of', { light: null, dark: null }, 'tolerance.from'],
    ['a slipped decimal', { target: { L: 400, a: 8, b: -30 } }, 'target.L'],
    [
      'a tolerance of nothing',
      { tolerance: { from: 'target', deltaE: 0, kL: 1, kC: 1, kH: 1 } },
      'tolerance.deltaE',
    ],
    ['a measured colour without figures', { ...figures }, 'grade'],
    ['a comparison with nothing', { sample: null, grade: 'compared' }, 'grade'],
    ['a photo that there is none of', { grade: 'photo' }, 'grade'],
    ['a photo that was never sent', { photoId: 999_999 }, 'photoId'],
    ['what was agreed tomorrow', { agreedOn: '2099-01-01' }, 'agreedOn'],
    ['what ran out before it was agreed', { expiresOn: '2026-03-01' }, 'expiresOn'],
    ['a customer that there is none of', { customerId: 999_999 }, 'customerId'],
    ['a code that is taken', { code: 'PEACOCK-1' }, 'code'],
  ])('refuses %s, naming the field', async (_, change, path) => {
    const before = await db.prisma.colourStandardRevision.count();
    const reply = await author({ method: 'POST', url, payload: { ...standard(), ...change } });
    expect(reply.statusCode, reply.body).toBe(422);
    expect(issuesOf(reply)).toContain(path);
    expect(await db.prisma.colourStandardRevision.count()).toBe(before);
  });

  it('goes with its standard when it is thrown away, unless a part points to it', async () => {
    const draft = await started();
    expect((await send(author, draft, { method: 'DELETE' })).statusCode).toBe(200);
    expect((await author({ url: `${url}/${draft.standardId}` })).statusCode).toBe(404);
  });
});

describe('an approval', () => {
  it('is not given by whoever wrote in it, nor by a role without the right', async () => {
    const draft = await post<ColourStandard>(second, url, standard());
    expect((await send(second, draft, { verb: 'approve' })).statusCode).toBe(403);
    expect((await send(author, draft, { verb: 'approve' })).statusCode).toBe(403);
    expect((await read(draft.standardId)).status).toBe('draft');
  });

  it.each([
    ['words alone', { ...figures, sample: null, grade: 'word' as const }, 'grade'],
    ['what nobody of the customer agreed to', { agreedBy: '' }, 'agreedBy'],
    ['what has run out', { expiresOn: '2026-03-02' }, 'expiresOn'],
  ])('is refused to %s', async (_, change, path) => {
    const reply = await send(second, await started(change), { verb: 'approve' });
    expect(reply.statusCode, reply.body).toBe(422);
    expect(issuesOf(reply)).toEqual([path]);
  });

  it('freezes the revision, and is superseded by that of the next', async () => {
    const first = await approved();
    expect(first).toMatchObject({ status: 'approved', selfApproved: false });
    expect(first.approvedBy).not.toBeNull();
    expect(
      (await send(author, first, { method: 'PUT', payload: standard({ code: first.code }) })).statusCode,
    ).toBe(409);
    await expect(
      db.prisma.colourStandardRevision.update({ where: { id: first.revisionId }, data: { name: 'other' } }),
    ).rejects.toThrow('make a new revision');
    const next = await post<ColourStandard>(author, `${url}/${first.standardId}/revisions`, {
      changeNote: 'customer found it too dark',
    });
    expect((await read(first.standardId)).revision, 'the draft is not in force').toBe(1);
    await send(second, next, { verb: 'approve' });
    expect(await read(first.standardId)).toMatchObject({ revision: 2, status: 'approved' });
    expect(await read(first.standardId, '?revision=1')).toMatchObject({ revision: 1, status: 'superseded' });
    const { items } = (await second({ url: `/api/history/colour-standard/${first.standardId}` })).json<{
      items: AuditEntry[];
    }>();
    expect(items.map(({ action }) => action)).toEqual([
      'approved',
      'superseded',
      'drafted',
      'approved',
      'drafted',
    ]);
  });

  it('of two at once is given once', async () => {
    const draft = await started();
    const third = await as('lab');
    const replies = await Promise.all([
      send(second, draft, { verb: 'approve' }),
      send(third, draft, { verb: 'approve' }),
    ]);
    expect(replies.map(({ statusCode }) => statusCode).sort()).toEqual([200, 409]);
  });

  it('is withdrawn by retiring, with a reason', async () => {
    const first = await approved();
    expect((await send(second, first, { verb: 'retire' })).statusCode).toBe(422);
    const retired = await send(second, first, { verb: 'retire', payload: { reason: 'sample lost' } });
    expect(retired.json<ColourStandard>()).toMatchObject({ status: 'retired', endReason: 'sample lost' });
  });
});

describe('the standard of a part', () => {
  it('is the approved revision in force, and nothing while there is only a draft', async () => {
    const draft = await started({ expiresOn: '2098-12-31' });
    await db.prisma.part.create({
      data: {
        ...{ customerId, number: 'P-1', revision: 'A', materialId: 1, colourStandardId: draft.standardId },
        ...{ geometryKind: 'typed', geometry: {}, areaMm2: 1, electricalAreaMm2: 1, coatedAreaMm2: 1 },
        ...{ areaMethod: 'typed', areaFoundById: author.personId, areaFoundAt: new Date() },
      },
    });
    expect(await readInForce(db.execute, [draft.standardId])).toEqual([]);
    expect((await send(author, draft, { method: 'DELETE' })).statusCode).toBe(409);
    await send(second, draft, { verb: 'approve' });
    expect((await readInForce(db.execute, [draft.standardId]))[0]).toMatchObject({
      ...{ standardId: draft.standardId, code: draft.code, revision: 1, status: 'approved' },
      ...{ target: draft.target, light: draft.light, dark: draft.dark, tolerance: draft.tolerance },
      ...{ conditions: draft.conditions, basis: 'lab-and-sample', grade: 'measured' },
    });
  });
});
