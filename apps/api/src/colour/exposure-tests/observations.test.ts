import type { ExposureObservation, ExposureTest, Material } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { testApp, type TestApp } from '../../../../../tests/support/app.ts';
import {
  ago,
  DAY,
  exposureBench,
  HOUR,
  pastTest,
  samePixel,
  sendPicture,
} from '../../../../../tests/support/exposure.ts';
import { post } from '../../../../../tests/support/lab.ts';
import type { Actor } from '../../kernel/actor.ts';

type Person = Awaited<ReturnType<TestApp['as']>>;
const { as, db } = await testApp();
let lab: Person;
let quality: Person;
let operator: Person;
let actor: Actor;
let bench: ReturnType<typeof exposureBench>;
beforeAll(async () => {
  [lab, quality, operator] = [await as('lab'), await as('quality'), await as('operator')];
  await post(lab, '/api/materials/starting-library', {});
  const { items } = (await lab({ url: '/api/materials?limit=200' })).json<{ items: Material[] }>();
  bench = exposureBench({ lab, materialId: items.find(({ name }) => name === 'Carbon steel 1075')?.id ?? 0 });
  actor = {
    ...{ personId: lab.personId, name: 'lab', displayName: 'Lab', roles: ['lab'], units: 'metric' },
    ...{ signInId: 0, address: '' },
  };
});

type Reply = Awaited<ReturnType<Person>>;
const refused = async (sent: Reply | Promise<Reply>) => {
  const reply = await sent;
  expect(reply.statusCode, reply.body).toBe(422);
  return (reply.json<{ issues?: { path: string }[] }>().issues ?? []).map(({ path }) => path);
};
const idOf = ({ specimens }: ExposureTest, place = 0) => specimens[place]?.id ?? 0;

describe('an observation', () => {
  it('is kept with the rating that its area gives, and who saw it (ISO 10289: 0.3 % is 7)', async () => {
    const test = await bench.started();
    const reply = await bench.look(idOf(test), { verdict: 'corroded', defectAreaPercent: 0.3 });
    expect(reply.json<ExposureObservation>()).toMatchObject({
      ...{ verdict: 'corroded', rating: 7, exposedHours: expect.closeTo(5, 1) as number },
      counts: { rating: 7 },
    });
    const [bare] = (await bench.read(test.id)).specimens;
    expect(bare?.firstCorrosion).toEqual({ afterH: 0, byH: expect.closeTo(5, 1) as number });
  });

  it.each([
    ['before the start', { seenAt: ago(9 * HOUR) }, ['seenAt']],
    ['in the future', { seenAt: ago(-HOUR) }, ['seenAt']],
    ['days late', { seenAt: ago(3 * DAY) }, ['seenAt']],
    ['of a corroded area without one', { verdict: 'corroded' }, ['defectAreaPercent']],
    [
      'of more than the whole surface',
      { verdict: 'corroded', defectAreaPercent: 250 },
      ['defectAreaPercent'],
    ],
    ['of a stain with a corroded area', { verdict: 'stain', defectAreaPercent: 2 }, ['defectAreaPercent']],
    ['with a picture that is none', { photoId: 999_999 }, ['photoId']],
  ])('is refused %s', async (_, seen, path) => {
    const test = await bench.started();
    expect(await refused(bench.look(idOf(test), seen))).toEqual(path);
    expect(await db.prisma.exposureObservation.count({ where: { testId: test.id } })).toBe(0);
  });

  it('of a plan, of an ended test or of a specimen that was taken out is refused', async () => {
    expect((await bench.look(idOf(await bench.planned()))).statusCode).toBe(409);
    expect((await bench.look(999_999)).statusCode).toBe(404);
    const test = await bench.started();
    const out = { takenOut: true, seenAt: ago(2 * HOUR) };
    expect((await bench.look(idOf(test), out)).statusCode).toBe(201);
    expect((await bench.look(idOf(test))).statusCode).toBe(409);
    const end = { endedAt: ago(0), verdict: 'black stayed black' };
    await post(lab, `/api/exposure-tests/${test.id}/end`, end);
    expect((await bench.look(idOf(test, 1))).statusCode).toBe(409);
  });

  it('of two people at once is one: the second is told what the first saw', async () => {
    const test = await bench.started();
    const replies = await Promise.all([bench.look(idOf(test)), bench.look(idOf(test), {}, quality)]);
    expect(replies.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
    expect(replies.find(({ statusCode }) => statusCode === 409)?.body).toContain('looked at it at');
    expect((await bench.look(idOf(test, 1), {}, quality)).statusCode).toBe(201);
  });

  it('that says the metal healed says why', async () => {
    const test = await bench.started();
    await bench.look(idOf(test), { verdict: 'corroded', defectAreaPercent: 5, seenAt: ago(3 * HOUR) });
    expect(await refused(bench.look(idOf(test)))).toEqual(['note']);
    const smaller = { verdict: 'corroded', defectAreaPercent: 2 };
    expect(await refused(bench.look(idOf(test), smaller))).toEqual(['note']);
    const wiped = { ...smaller, note: 'loose rust wiped off' };
    expect((await bench.look(idOf(test), wiped)).statusCode).toBe(201);
  });

  it('is corrected beside itself with a reason, and counts as it was corrected', async () => {
    const test = await bench.started();
    const seen = (await bench.look(idOf(test), { verdict: 'stain' })).json<ExposureObservation>();
    const correct = (body: object) =>
      lab({
        ...{ method: 'POST' as const, url: `/api/exposure-observations/${seen.id}/corrections` },
        payload: { verdict: 'first-corrosion', defectAreaPercent: null, note: '', reason: 'rust', ...body },
      });
    expect(await refused(correct({ reason: '' }))).toEqual(['reason']);
    expect(await refused(correct({ verdict: 'stain' }))).toEqual(['verdict']);
    expect((await correct({})).json()).toMatchObject({
      ...{ verdict: 'stain', rating: 10, counts: { verdict: 'first-corrosion', rating: null } },
      corrections: [{ reason: 'rust', afterEnd: false }],
    });
    const end = { endedAt: ago(0), verdict: 'rust' };
    const ended = await post<ExposureTest>(lab, `/api/exposure-tests/${test.id}/end`, end);
    const late = await correct({ verdict: 'stain', reason: 'dye after all' });
    expect(late.json<ExposureObservation>().corrections).toMatchObject([{}, { afterEnd: true }]);
    expect((await bench.read(test.id)).result).toEqual(ended.result);
  });

  it('cannot be changed or removed behind the service', async () => {
    const test = await bench.started();
    const { id } = (await bench.look(idOf(test))).json<ExposureObservation>();
    const where = { id };
    await expect(
      db.prisma.exposureObservation.update({ where, data: { verdict: 'stain' } }),
    ).rejects.toThrow();
    await expect(db.prisma.exposureObservation.delete({ where })).rejects.toThrow();
  });
});

describe('a picture', () => {
  it('is seen by whoever may read the test, and by nobody before it hangs there', async () => {
    const test = await bench.started();
    const photoId = await sendPicture(lab);
    expect((await operator({ url: `/api/files/${photoId}/content` })).statusCode).toBe(404);
    expect((await bench.look(idOf(test), { photoId })).json()).toMatchObject({ photo: { id: photoId } });
    expect((await operator({ url: `/api/files/${photoId}/content` })).statusCode).toBe(200);
  });

  it('of one specimen is not the picture of another: neither the file nor its bytes sent again', async () => {
    const test = await bench.started();
    const photoId = await sendPicture(lab, samePixel);
    await bench.look(idOf(test), { photoId });
    expect(await refused(bench.look(idOf(test, 1), { photoId }))).toEqual(['photoId']);
    const again = await sendPicture(quality, samePixel);
    const reply = await bench.look(idOf(test, 1), { photoId: again }, quality);
    expect(await refused(reply)).toEqual(['photoId']);
    expect(reply.body).toContain('picture of B1');
  });

  it('hung up for two specimens at once hangs at one', async () => {
    const test = await bench.started();
    const photoId = await sendPicture(lab);
    const replies = await Promise.all([0, 1].map((place) => bench.look(idOf(test, place), { photoId })));
    expect(replies.map(({ statusCode }) => statusCode).sort()).toEqual([201, 422]);
  });
});

describe('days that nobody looked on', () => {
  it('stay missed, and make the time to first corrosion less sure', async () => {
    const id = await pastTest(db, {
      ...{ actor, input: bench.plan(), daysAgo: 6 },
      looks: [
        { 1: 'no-change', 2: 'stain', 5: 'first-corrosion' },
        { 1: 'no-change', 2: 'no-change', 3: 'no-change', 4: 'no-change', 5: 'no-change', 6: 'no-change' },
      ],
    });
    const test = await bench.read(id);
    const [bare, black] = test.specimens;
    expect(bare?.missedDays).toHaveLength(2);
    expect(black?.missedDays).toEqual([]);
    expect(bare?.firstCorrosion.afterH).toBeCloseTo(48, 6);
    expect(bare?.firstCorrosion.byH).toBeCloseTo(120, 6);
    expect(test).toMatchObject({ missedLooks: 2, dueLooks: 1 });
    const [missed] = bare?.missedDays ?? [];
    const late = await bench.look(bare?.id ?? 0, { seenAt: `${missed}T12:00:00.000Z` });
    expect(await refused(late)).toEqual(['seenAt']);
    const csv = (await lab({ url: `/api/exposure-tests/${id}/observations.csv` })).body;
    expect(csv.match(/nobody looked/g)).toHaveLength(2);
  });

  it('count at the end, which freezes the result: a name or a rule that changes later does not move it', async () => {
    const id = await pastTest(db, {
      ...{ actor, input: bench.plan({ plannedHours: 96 }), daysAgo: 8, endedDaysAgo: 4 },
      looks: [
        { 1: 'no-change', 2: 'first-corrosion' },
        { 1: 'no-change', 4: 'no-change' },
      ],
    });
    const { result, specimens, state } = await bench.read(id);
    expect(state).toBe('ended');
    expect(result).toMatchObject({ missedLooks: 4, exposedHours: expect.closeTo(96, 2) as number });
    expect(specimens.map(({ missedDays }) => missedDays.length)).toEqual([2, 2]);
    expect(result.groups.map(({ finish, corroded }) => [finish, corroded])).toEqual([
      ['bare', 1],
      ['coloured', 0],
    ]);
    const materialId = specimens[0]?.material.id ?? 0;
    await db.prisma.material.update({ where: { id: materialId }, data: { name: 'Another steel' } });
    expect((await bench.read(id)).result).toEqual(result);
    await db.prisma.material.update({ where: { id: materialId }, data: { name: 'Carbon steel 1075' } });
  });

  it('are on Today for the lab while they can be filled in, with what else a test waits for', async () => {
    // Her own tests come first: how much waits at the others depends on the hour at which this runs.
    const lena = await as('lab');
    const input = bench.plan({ name: 'waits', plannedHours: 48, responsibleId: lena.personId });
    const id = await pastTest(db, {
      ...{ actor, input, daysAgo: 3 },
      looks: [{ 1: 'no-change', 2: 'no-change', 3: 'no-change' }, { 1: 'no-change' }],
    });
    const { sections } = (await lena({ url: '/api/today' })).json<{
      sections: { key: string; items: { page: object; title: string; detail: string }[] }[];
    }>();
    const items = sections.find(({ key }) => key === 'exposureTests')?.items ?? [];
    const titles = items.filter(({ detail }) => detail.startsWith('waits')).map(({ title }) => title);
    expect(titles.join('\n')).toMatch(/1 specimen not looked at yesterday/);
    expect(titles.join('\n')).toMatch(/1 specimen to look at today/);
    expect(titles.join('\n')).toMatch(/has its 48 h/);
    expect(items.map(({ page }) => page)).toContainEqual({ kind: 'exposureTest', id });
    const { sections: floor } = (await operator({ url: '/api/today' })).json<{
      sections: { key: string }[];
    }>();
    expect(floor.map(({ key }) => key)).not.toContain('exposureTests');
  });
});
