import type { Measurement, Part } from '@huelot/contracts';
import { setTimeout as sleep } from 'node:timers/promises';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp, type Ask, type TestApp } from '../../../../../tests/support/app.ts';
import { binaryStl, boxFacets } from '../../../../../tests/support/models.ts';
import { addPart, partBasis, partFacts, sendFile } from '../../../../../tests/support/parts.ts';
import { cylinderStep } from '../../../../../tests/support/step-models.ts';
import { addMeasurement } from './measurement-queries.ts';
import { maxUnderWay } from './measurements.ts';
import { openMeasuring } from './measuring.ts';

let huelot: TestApp;
let ask: Ask & { personId: number };
let basis: { customerId: number; materialId: number };
beforeAll(async () => {
  huelot = await testApp();
  ask = await huelot.as('estimator');
  basis = await partBasis(huelot.db);
});

const box = binaryStl(boxFacets(1, 2, 0.5));
const start = async (fileId: number) =>
  (await ask({ method: 'POST', url: '/api/measurements', payload: { fileId } })).json<Measurement>();
const read = async (id: number) => (await ask({ url: `/api/measurements/${id}` })).json<Measurement>();

/** Waits until a measurement is over. */
async function over(id: number): Promise<Measurement> {
  for (;;) {
    const measurement = await read(id);
    if (!['waiting', 'running'].includes(measurement.status)) return measurement;
    await sleep(100);
  }
}

test('an STL is measured beside the requests, once a file, and shown as a coarse mesh', async () => {
  const file = await sendFile(ask, 'box.stl', box);
  const started = await start(file.id);
  expect(started).toMatchObject({ statedUnit: null, result: null, fault: null, file: { name: 'box.stl' } });
  expect((await start(file.id)).id).toBe(started.id);
  const done = await over(started.id);
  expect(done).toMatchObject({ status: 'done', progress: 1, fault: null });
  expect(done.result).toMatchObject({ area: 7, volume: 1, size: { x: 1, y: 2, z: 0.5 }, closed: true });
  const preview = await ask({ url: `/api/measurements/${done.id}/preview` });
  expect(preview.headers['content-type']).toBe('application/octet-stream');
  expect([preview.rawPayload.readUInt32LE(0), preview.rawPayload.readUInt32LE(4)]).toEqual([8, 12]);
});

test('a part takes its area from the file in the unit the person chose, and says so', async () => {
  const file = await sendFile(ask, 'bracket.stl', box);
  const { id: measurementId } = await over((await start(file.id)).id);
  const part = await addPart(ask, {
    customerId: basis.customerId,
    ...partFacts(basis.materialId, {
      number: 'M-1',
      massMethod: 'volume',
      massKg: null,
      geometry: {
        kind: 'mesh',
        measurementId,
        unit: 'inch',
        shadowedMm2: 16.129,
        maskedMm2: 0,
        contactMm2: 0,
        roughnessFactor: 1,
      },
    }),
  });
  expect(part.areaMm2).toBeCloseTo(7 * 645.16, 6);
  expect(part.electricalAreaMm2).toBeCloseTo(7 * 645.16 - 16.129, 6);
  expect(part.volumeMm3).toBeCloseTo(16_387.064, 6);
  expect(part.massKg).toBeCloseTo(16_387.064e-9 * 4510, 9);
  expect(part.areaMethod).toBe('measured from bracket.stl, one unit being one inch');
  expect(part.areaFoundBy).toMatch(/^estimator/);
  expect(part.files).toMatchObject([{ kind: 'model', file: { id: file.id } }]);
});

test('a STEP file says its unit: it is measured in mm, and no other unit is taken', async () => {
  const file = await sendFile(ask, 'pin.step', cylinderStep({ radius: 0.5, height: 2, unit: 'inch' }));
  const done = await over((await start(file.id)).id);
  expect(done).toMatchObject({ status: 'done', statedUnit: 'mm' });
  const expected = 2 * Math.PI * 12.7 * (12.7 + 50.8);
  expect(Math.abs((done.result?.area ?? 0) / expected - 1)).toBeLessThan(0.001);
  const geometry = {
    kind: 'mesh',
    measurementId: done.id,
    unit: 'inch',
    shadowedMm2: 0,
    maskedMm2: 0,
    contactMm2: 0,
    roughnessFactor: 1,
  } as const;
  const payload = {
    customerId: basis.customerId,
    ...partFacts(basis.materialId, { number: 'M-2', geometry }),
  };
  const answer = await ask({ method: 'POST', url: '/api/parts', payload });
  expect(answer.json()).toMatchObject({ status: 422, issues: [{ path: 'geometry.unit' }] });
  const inMm = { ...payload, geometry: { ...geometry, unit: 'mm' } };
  const kept = await ask({ method: 'POST', url: '/api/parts', payload: inMm });
  expect(kept.json<Part>().areaMethod).toBe('measured from pin.step');
});

test('a broken file fails in words, gives no part an area, and may be measured again', async () => {
  const broken = Buffer.from(box);
  broken.writeFloatLE(NaN, 96);
  const file = await sendFile(ask, 'broken.stl', broken);
  const failed = await over((await start(file.id)).id);
  expect(failed.status).toBe('failed');
  expect(failed.fault).toContain('NaN in facet 1');
  expect((await ask({ url: `/api/measurements/${failed.id}/preview` })).statusCode).toBe(404);
  const geometry = {
    kind: 'mesh',
    measurementId: failed.id,
    unit: 'mm',
    shadowedMm2: 0,
    maskedMm2: 0,
    contactMm2: 0,
    roughnessFactor: 1,
  } as const;
  const payload = {
    customerId: basis.customerId,
    ...partFacts(basis.materialId, { number: 'M-3', geometry }),
  };
  const answer = await ask({ method: 'POST', url: '/api/parts', payload });
  expect(answer.json()).toMatchObject({ status: 422, issues: [{ path: 'geometry.measurementId' }] });
  expect((await start(file.id)).id).not.toBe(failed.id);
});

test('a measurement is cancelled while it waits and while it runs, and the next one is measured', async () => {
  const files = await Promise.all(['a.stl', 'b.stl', 'c.stl'].map((name) => sendFile(ask, name, box)));
  const [first, second, third] = await Promise.all(files.map(({ id }) => start(id)));
  for (const one of [second, first]) {
    const answer = await ask({ method: 'POST', url: `/api/measurements/${one?.id}/cancel` });
    expect(answer.json()).toMatchObject({ status: 'cancelled' });
  }
  expect(await over(third?.id ?? 0)).toMatchObject({ status: 'done' });
  expect((await read(first?.id ?? 0)).status).toBe('cancelled');
  const late = await ask({ method: 'POST', url: `/api/measurements/${third?.id}/cancel` });
  expect(late.json()).toMatchObject({ status: 'done' });
});

test('one whose server fell silent is reported as failed', async () => {
  const file = await sendFile(ask, 'silent.stl', box);
  const row = await huelot.db.prisma.measurement.create({
    data: {
      fileId: file.id,
      unit: 'unknown',
      status: 'running',
      createdById: ask.personId,
      heartbeatAt: new Date(Date.now() - 60_000),
    },
  });
  expect(await read(row.id)).toMatchObject({
    status: 'failed',
    fault: 'The server stopped while it was measuring. Measure again.',
  });
});

describe('what cannot be measured', () => {
  test('is refused by name', async () => {
    const picture = await sendFile(ask, 'notes.txt', 'words');
    for (const fileId of [picture.id, 999_999]) {
      const answer = await ask({ method: 'POST', url: '/api/measurements', payload: { fileId } });
      expect(answer.json()).toMatchObject({ status: 422, issues: [{ path: 'fileId' }] });
    }
    expect((await ask({ url: '/api/measurements/999999' })).statusCode).toBe(404);
    expect((await ask({ method: 'POST', url: '/api/measurements/999999/cancel' })).statusCode).toBe(404);
    const operator = await huelot.as('operator');
    const refused = await operator({ method: 'POST', url: '/api/measurements', payload: { fileId: 1 } });
    expect(refused.statusCode).toBe(403);
  });
});

test('the queue has an end: a model beyond it is refused in words, and taken when one is done', async () => {
  const { prisma } = huelot.db;
  const file = await sendFile(ask, 'one-too-many.stl', box);
  const heartbeatAt = new Date(Date.now() + 60_000); // Another process has them in its queue, and lives.
  const waiting = { fileId: file.id, unit: 'unknown', createdById: ask.personId, heartbeatAt };
  const others = await sendFile(ask, 'others.stl', binaryStl(boxFacets(3, 3, 3)));
  await prisma.measurement.createMany({
    data: Array.from({ length: maxUnderWay }, () => ({ ...waiting, fileId: others.id, status: 'waiting' })),
  });
  const measure = () => ask({ method: 'POST', url: '/api/measurements', payload: { fileId: file.id } });
  for (const refused of await Promise.all([measure(), measure(), measure()])) {
    expect(refused.json()).toMatchObject({ status: 429, code: 'too-many-requests' });
    expect(refused.json<{ detail: string }>().detail).toMatch('wait to be measured already');
  }
  await prisma.measurement.updateMany({ where: { fileId: others.id }, data: { status: 'cancelled' } });
  expect((await measure()).statusCode).toBe(202);
});

test('a server that stops calls off what it measures and what waits', async () => {
  const { execute } = huelot.db;
  const measuring = openMeasuring(execute, { error: () => undefined });
  const file = await sendFile(ask, 'stopped.stl', box);
  const ids = [];
  for (let at = 0; at < 2; at += 1) {
    const id = await addMeasurement(execute, { fileId: file.id, unit: 'unknown', createdById: ask.personId });
    measuring.add({ id, fileId: file.id, sizeBytes: file.sizeBytes, kind: 'stl' });
    ids.push(id);
  }
  await measuring.close();
  for (const id of ids) {
    expect(await read(id)).toMatchObject({
      status: 'failed',
      fault: 'The server was stopped while it was measuring. Measure again.',
    });
  }
});

test('the part keeps who found its area until the geometry is another', async () => {
  const planner = await huelot.as('planner');
  const facts = partFacts(basis.materialId, { number: 'M-9' });
  const part = await addPart(ask, { customerId: basis.customerId, ...facts });
  const put = async (version: number, payload: object): Promise<Part> =>
    (
      await planner({
        method: 'PUT',
        url: `/api/parts/${part.id}`,
        headers: { 'if-match': `"${version}"` },
        payload,
      })
    ).json();
  const described = await put(1, { ...facts, description: 'Clamp' });
  expect(described).toMatchObject({ areaFoundBy: part.areaFoundBy, areaFoundAt: part.areaFoundAt });
  const measured = await put(2, { ...facts, geometry: { ...facts.geometry, areaMm2: 5100 } });
  expect(measured.areaFoundBy).toMatch(/^planner/);
});
