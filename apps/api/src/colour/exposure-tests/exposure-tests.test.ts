import type { ExposureInterruption, ExposureReading, ExposureTest, Material } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { testApp, type TestApp } from '../../../../../tests/support/app.ts';
import { ago, DAY, exposureBench, HOUR } from '../../../../../tests/support/exposure.ts';
import { post } from '../../../../../tests/support/lab.ts';

type Person = Awaited<ReturnType<TestApp['as']>>;
const { as, db } = await testApp();
let lab: Person;
let operator: Person;
let bench: ReturnType<typeof exposureBench>;
beforeAll(async () => {
  [lab, operator] = [await as('lab'), await as('operator')];
  await post(lab, '/api/materials/starting-library', {});
  const { items } = (await lab({ url: '/api/materials?limit=200' })).json<{ items: Material[] }>();
  bench = exposureBench({ lab, materialId: items.find(({ name }) => name === 'Carbon steel 1075')?.id ?? 0 });
});

const url = '/api/exposure-tests';
type Reply = Awaited<ReturnType<Person>>;
const refused = async (sent: Reply | Promise<Reply>) => {
  const reply = await sent;
  expect(reply.statusCode, reply.body).toBe(422);
  return (reply.json<{ issues?: { path: string }[] }>().issues ?? []).map(({ path }) => path);
};
const spray = {
  temperatureC: { low: 33, high: 37 },
  pH: { low: 6.5, high: 7.2 },
  collectionMlPerHour: { low: 1, high: 2 },
  saltGPerL: { low: 45, high: 55 },
};

describe('a plan', () => {
  it('is edited until the specimens go in, and stands from then on', async () => {
    const planned = await bench.planned();
    expect(planned).toMatchObject({ state: 'planned', number: expect.stringMatching(/^ET-\d+$/) as string });
    const put = (version: number, extra: object) =>
      lab({
        ...{ method: 'PUT', url: `${url}/${planned.id}`, payload: bench.plan(extra) },
        headers: { 'if-match': `"${version}"` },
      });
    const changed = (await put(planned.version, { name: 'another' })).json<ExposureTest>();
    expect(changed).toMatchObject({ name: 'another', specimens: [{ mark: 'B1' }, { mark: 'C1' }] });
    expect((await put(planned.version, {})).statusCode).toBe(412);
    expect((await bench.start(planned, ago(HOUR))).statusCode).toBe(412);
    const running = (await bench.start(changed, ago(HOUR))).json<ExposureTest>();
    expect(running).toMatchObject({ state: 'running', exposedHours: expect.closeTo(1, 1) as number });
    expect((await put(running.version, { name: 'third' })).statusCode).toBe(409);
    const withdrawal = { method: 'POST' as const, url: `${url}/${planned.id}/withdraw` };
    expect((await lab({ ...withdrawal, payload: { reason: 'no' } })).statusCode).toBe(409);
  });

  it.each([
    ['a slipped decimal of hours', { plannedHours: 24_000 }, 'plannedHours'],
    ['hours that are over before the first look', { plannedHours: 9.6 }, 'plannedHours'],
    ['salt spray of a year', { kind: 'neutral-salt-spray', plannedHours: 8760 }, 'plannedHours'],
    ['somebody responsible who may make no tests', { responsibleId: 999_999 }, 'responsibleId'],
    ['a range upside down', { limits: { ...spray, pH: { low: 7.2, high: 6.5 } } }, 'limits.pH.high'],
    ['no specimen', { specimens: [] }, 'specimens'],
  ])('is refused for %s', async (_, extra, path) => {
    const reply = await lab({ method: 'POST', url, payload: bench.plan(extra as object) });
    expect(await refused(reply)).toEqual([path]);
  });

  it('is refused for two specimens of one mark, a material that is none, and an oil without a name', async () => {
    const send = (...specimens: ReturnType<typeof bench.specimen>[]) =>
      refused(lab({ method: 'POST', url, payload: bench.plan({ specimens }) }));
    expect(await send(bench.specimen('B1'), bench.specimen(' b1'))).toEqual(['specimens.1.mark']);
    expect(await send(bench.specimen('B1', { materialId: 999_999 }))).toEqual(['specimens.0.materialId']);
    expect(await send(bench.specimen('O1', { finish: 'coloured-and-oiled', film: 'black' }))).toEqual([
      'specimens.0.protective',
    ]);
    expect(await send(bench.specimen('B1', { couponSeriesId: 999_999 }))).toEqual([
      'specimens.0.couponSeriesId',
    ]);
  });

  it('is withdrawn with a reason, once', async () => {
    const { id } = await bench.planned();
    const send = () => lab({ method: 'POST', url: `${url}/${id}/withdraw`, payload: { reason: 'no steel' } });
    expect((await send()).json()).toMatchObject({ state: 'withdrawn', withdrawReason: 'no steel' });
    expect((await send()).statusCode).toBe(409);
  });

  it('is made by whoever may make coupons, and read by the floor', async () => {
    const payload = bench.plan();
    expect((await operator({ method: 'POST', url, payload })).statusCode).toBe(403);
    const { id, specimens } = await bench.started();
    expect((await operator({ url: `${url}/${id}` })).statusCode).toBe(200);
    expect((await bench.look(specimens[0]?.id ?? 0, {}, operator)).statusCode).toBe(403);
  });

  it('started in the future or long ago, it is refused', async () => {
    const planned = await bench.planned();
    expect(await refused(bench.start(planned, ago(-HOUR)))).toEqual(['startedAt']);
    expect(await refused(bench.start(planned, ago(3 * DAY)))).toEqual(['startedAt']);
  });
});

describe('a chamber', () => {
  const running = () => bench.started({ kind: 'neutral-salt-spray', limits: spray });
  const figures = { temperatureC: 35, pH: 6.8, collectionMlPerHour: 1.5, saltGPerL: 50 };
  const reading = (id: number, extra: object = {}) =>
    lab({
      method: 'POST',
      url: `${url}/${id}/readings`,
      payload: { ...figures, readAt: ago(0), note: '', ...extra },
    });

  it('that left its range is marked for ever, also where the reading was corrected', async () => {
    const { id } = await running();
    expect((await reading(id)).json<ExposureReading>().outside).toEqual([]);
    const wrong = (await reading(id, { temperatureC: 53 })).json<ExposureReading>();
    expect(wrong.outside).toEqual(['temperatureC']);
    const correct = () =>
      lab({
        ...{ method: 'POST' as const, url: `/api/exposure-readings/${wrong.id}/correction` },
        payload: { ...figures, note: '', reason: 'digits swapped' },
      });
    const replies = await Promise.all([correct(), correct()]);
    expect(replies.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
    const test = await bench.read(id);
    expect(test.readingsOutside).toBe(1);
    expect(test.readings.find((one) => one.id === wrong.id)).toMatchObject({
      ...{ isCorrected: true, temperatureC: 53, outside: ['temperatureC'] },
    });
  });

  it('is not read before the test, in the future, or without a figure', async () => {
    const { id } = await running();
    expect(await refused(reading(id, { readAt: ago(DAY) }))).toEqual(['readAt']);
    expect(await refused(reading(id, { readAt: ago(-DAY) }))).toEqual(['readAt']);
    const none = { temperatureC: null, pH: null, collectionMlPerHour: null, saltGPerL: null };
    expect(await refused(reading(id, none))).toEqual(['temperatureC']);
    expect(await refused(reading(id, { pH: 68 }))).toEqual(['pH']);
  });

  it('that was opened does not count: exposed hours exclude it', async () => {
    const { id } = await running();
    const interrupt = (fromAt: string, toAt: string | null) =>
      lab({
        method: 'POST',
        url: `${url}/${id}/interruptions`,
        payload: { fromAt, toAt, reason: 'nozzle blocked' },
      });
    expect((await interrupt(ago(4 * HOUR), ago(2 * HOUR))).statusCode).toBe(201);
    expect((await bench.read(id)).exposedHours).toBeCloseTo(3, 1);
    expect((await interrupt(ago(3 * HOUR), ago(HOUR))).statusCode).toBe(409);
    expect(await refused(interrupt(ago(9 * HOUR), ago(8 * HOUR)))).toEqual(['fromAt']);
    expect(await refused(interrupt(ago(HOUR), ago(2 * HOUR)))).toEqual(['toAt']);
    const replies = await Promise.all([1, 2].map(() => interrupt(ago(HOUR), null)));
    expect(replies.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
    const lasting = replies.find(({ statusCode }) => statusCode === 201)?.json<ExposureInterruption>();
    expect((await bench.read(id)).exposedHours).toBeCloseTo(2, 1);
    const end = { method: 'POST' as const, url: `${url}/${id}/end` };
    const payload = { endedAt: ago(0), verdict: 'enough' };
    expect((await lab({ ...end, payload })).statusCode).toBe(409);
    const resume = { method: 'POST' as const, url: `/api/exposure-interruptions/${lasting?.id}/end` };
    expect((await lab({ ...resume, payload: { toAt: ago(0.5 * HOUR) } })).statusCode).toBe(200);
    expect((await lab({ ...resume, payload: { toAt: ago(0) } })).statusCode).toBe(409);
    expect((await bench.read(id)).result.interruptedHours).toBeCloseTo(2.5, 1);
    expect((await lab({ ...end, payload })).json<ExposureTest>()).toMatchObject({ state: 'ended' });
    expect((await reading(id)).statusCode).toBe(409);
  });
});

it('tests are found by what they were made of, and leave as CSV', async () => {
  const { id, number, specimens } = await bench.planned({ name: '=1+1' });
  const { items } = (
    await lab({ url: `${url}?materialId=${specimens[0]?.material.id}&state=planned` })
  ).json<{
    items: { id: number }[];
  }>();
  expect(items.map((item) => item.id)).toContain(id);
  expect((await lab({ url: `${url}?materialId=999999` })).json()).toMatchObject({ items: [] });
  const csv = (await lab({ url: `${url}.csv?search=${number}` })).body;
  expect(csv).toContain("'=1+1");
  expect((await lab({ url: '/api/exposure-sheet' })).json()).toMatchObject({
    people: expect.arrayContaining([expect.objectContaining({ id: lab.personId })]) as unknown,
  });
});

it('cannot be changed behind the service once it has started', async () => {
  const { id, specimens } = await bench.started();
  const where = { id };
  await expect(db.prisma.exposureTest.update({ where, data: { plannedHours: 1 } })).rejects.toThrow();
  await expect(db.prisma.exposureTest.delete({ where })).rejects.toThrow();
  await expect(
    db.prisma.exposureSpecimen.update({ where: { id: specimens[0]?.id ?? 0 }, data: { film: 'blue' } }),
  ).rejects.toThrow();
});
