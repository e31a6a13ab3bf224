import type { getToday, Instrument, InstrumentCalibration, InstrumentRecord } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import type { z } from 'zod';
import { type Ask, testApp } from '../../../../../tests/support/app.ts';
import { ok } from '../../../../../tests/support/main-line.ts';
import { post } from '../../../../../tests/support/lab.ts';

const { as, db } = await testApp();
let lena: Ask;
let omar: Ask;
beforeAll(async () => {
  [lena, omar] = [await as('lab'), await as('operator')];
});

const daysAgo = (days: number) => new Date(Date.now() - days * 86_400_000).toISOString().slice(0, 10);
let count = 0;
const add = (kind = 'thermometer') =>
  post<Instrument>(lena, '/api/instruments', {
    ...{ code: `TH-${(count += 1)}`, name: 'Tank thermometer', kind, serial: '7' },
    ...{ calibrationDueOn: null, notes: '' },
  });
const point = (asFound: number | null, asLeft: number | null = null) => ({
  ...{ reference: 60, asFound, asLeft, tolerance: 1, expandedUncertainty: 0.3, unit: '°C' },
});
const calibration = (points: object[], extra: Record<string, unknown> = {}) => ({
  ...{ doneOn: daysAgo(0), nextDueOn: daysAgo(-365), doneBy: 'Row Laboratories', certificateNumber: 'RL 88' },
  ...{ reference: 'platinum thermometer', referenceCertificate: 'PT 12', points, note: '', fileId: null },
  ...{ replaces: null, ...extra },
});
const calibrate = (
  id: number,
  points: object[],
  { ask = lena, ...extra }: { ask?: Ask } & Record<string, unknown> = {},
) => ask({ method: 'POST', url: `/api/instruments/${id}/calibrations`, payload: calibration(points, extra) });
const calibrated = (id: number, points: object[], extra: Record<string, unknown> = {}) =>
  ok<InstrumentCalibration>(calibrate(id, points, extra), 201);
const view = (id: number) => ok<InstrumentRecord>(omar({ url: `/api/instruments/${id}` }));
const change = ({ id, version, ...instrument }: Instrument, extra: object) => {
  const { code, name, kind, serial, notes, calibrationDueOn } = instrument;
  return lena({
    method: 'PUT',
    url: `/api/instruments/${id}`,
    headers: { 'if-match': `"${version}"` },
    payload: { code, name, kind, serial, notes, calibrationDueOn, archived: false, ...extra },
  });
};

describe('a calibration of an instrument', () => {
  it('was judged by whoever typed it: the points decide, as found and as left', async () => {
    const { id } = await add();
    expect(
      await calibrated(id, [point(60.4), point(61)], { doneOn: daysAgo(400), nextDueOn: daysAgo(35) }),
    ).toMatchObject({ asFound: 'pass', asLeft: 'pass', lastGoodOn: null });
    expect((await view(id)).instrument).toMatchObject({ calibrationOverdue: true, calibrationFailed: false });

    const failed = await calibrated(id, [point(60.2), point(64)], { doneOn: daysAgo(3) });
    expect(failed).toMatchObject({ asFound: 'fail', asLeft: 'fail', lastGoodOn: daysAgo(400) });
    expect((await view(id)).instrument).toMatchObject({ calibrationFailed: true });

    expect(await calibrated(id, [point(64, 60.1)])).toMatchObject({
      ...{ asFound: 'fail', asLeft: 'pass', lastGoodOn: daysAgo(400) },
    });
    expect((await view(id)).instrument).toMatchObject({
      ...{ calibrationFailed: false, calibrationOverdue: false, calibrationDueOn: daysAgo(-365) },
    });
  });

  it('stood with half of its points, none at all, or days that cannot be', async () => {
    const { id } = await add();
    const refused: [object[], Record<string, unknown>, string][] = [
      [[point(null)], {}, 'points.0.asFound'],
      [[point(60), point(null, 60)], {}, 'points'],
      [[], {}, 'points'],
      [[{ ...point(60), tolerance: 0 }], {}, 'points.0.tolerance'],
      [[point(60)], { doneOn: daysAgo(-2) }, 'doneOn'],
      [[point(60)], { nextDueOn: daysAgo(0) }, 'nextDueOn'],
      [[point(60)], { referenceCertificate: ' ' }, 'referenceCertificate'],
      [[point(60)], { fileId: 99_999 }, 'fileId'],
      [[point(60)], { replaces: { id: 99_999, reason: 'slip' } }, 'replaces.id'],
    ];
    for (const [points, extra, path] of refused) {
      const reply = await calibrate(id, points, extra);
      expect([reply.statusCode, reply.json<{ issues: object[] }>().issues[0]], path).toMatchObject([
        422,
        { path },
      ]);
    }
    expect((await calibrate(id, [point(60)], { ask: omar })).statusCode).toBe(403);
    expect((await view(id)).calibrations).toEqual([]);
  });

  it('was changed or taken away: a wrong one is replaced once, and both are seen', async () => {
    const { id } = await add();
    const wrong = await calibrated(id, [point(66)]);
    const right = await calibrated(id, [point(60.6)], {
      replaces: { id: wrong.id, reason: 'a slip of the pen' },
    });
    expect(right).toMatchObject({ asFound: 'pass', replacesId: wrong.id, reason: 'a slip of the pen' });
    expect((await view(id)).instrument.calibrationFailed).toBe(false);
    expect((await view(id)).calibrations.map(({ replacedById }) => replacedById)).toEqual([null, right.id]);
    const again = await calibrate(id, [point(60)], { replaces: { id: wrong.id, reason: 'twice' } });
    expect([again.statusCode, again.json<{ code: string }>().code]).toEqual([409, 'conflict']);
    await expect(
      db.prisma.instrumentCalibration.update({ where: { id: wrong.id }, data: { asLeft: 'pass' } }),
    ).rejects.toThrow(/stands as it was written down/);
    await expect(db.prisma.instrumentCalibration.delete({ where: { id: right.id } })).rejects.toThrow();
  });

  it('was put off by hand: the due date of a calibrated instrument is only brought forward', async () => {
    const { id } = await add();
    await calibrated(id, [point(60)]);
    const { instrument } = await view(id);
    for (const calibrationDueOn of [daysAgo(-366), null])
      expect(
        (await change(instrument, { calibrationDueOn })).json<{ issues: object[] }>().issues[0],
      ).toMatchObject({
        path: 'calibrationDueOn',
      });
    const sooner = await ok<Instrument>(change(instrument, { calibrationDueOn: daysAgo(1) }));
    expect(sooner.calibrationOverdue).toBe(true);
  });

  it('failed, and nobody was told', async () => {
    const { id } = await add('electrical-meter');
    await calibrated(id, [point(70)]);
    for (const ask of [lena, await as('quality')]) {
      const { sections } = await ok<z.output<typeof getToday.reply>>(ask({ url: '/api/today' }));
      const due = sections.find(({ key }) => key === 'instruments')?.items ?? [];
      expect(due.find(({ page }) => page.id === id)).toMatchObject({ urgent: true });
    }
  });
});

describe('the place of an instrument', () => {
  const place = ({ id, version }: Instrument, places: object[]) =>
    lena({
      method: 'PUT',
      url: `/api/instruments/${id}/places`,
      headers: { 'if-match': `"${version}"` },
      payload: { places },
    });
  it('was taken by two, named nothing, or a kind that cannot read there', async () => {
    const tank = await db.prisma.tank.create({
      data: {
        ...{ code: 'P1', name: 'Placed', kind: 'immersion', contents: 'dye', workingVolumeL: 90 },
        ...{ insideLengthMm: 500, insideWidthMm: 400, insideDepthMm: 600 },
      },
    });
    const [one, other, meter] = [await add(), await add(), await add('electrical-meter')];
    const here = { quantity: 'temperatureC', tankId: tank.id, supplyId: null };
    await ok(place(one, [here]));
    await ok(place(other, [here]));
    expect((await view(one.id)).places).toEqual([]);
    expect((await view(other.id)).places).toMatchObject([{ quantity: 'temperatureC', tank: { code: 'P1' } }]);

    expect((await place(other, [here])).statusCode).toBe(412);
    const refused: [object[], string][] = [
      [[here], 'places.0.quantity'],
      [[{ ...here, quantity: 'voltageV', tankId: null }], 'places.0.tankId'],
      [[{ ...here, quantity: 'voltageV', tankId: 99_999 }], 'places.0.tankId'],
      [
        [
          { ...here, quantity: 'voltageV' },
          { ...here, quantity: 'voltageV' },
        ],
        'places.1',
      ],
    ];
    for (const [places, path] of refused)
      expect((await place(meter, places)).json<{ issues: object[] }>().issues[0], path).toMatchObject({
        path,
      });
  });
});
