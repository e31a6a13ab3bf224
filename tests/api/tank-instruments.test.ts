import type {
  CertificateSheet,
  InstrumentRecord,
  Lot,
  LotSummary,
  lookBack,
  Traveler,
} from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import type { z } from 'zod';
import { sql } from '../../apps/api/src/db/client.ts';
import { good, mainLine, ok, post, reading, signOff } from '../support/main-line.ts';

const { db, as, shop, planner, operator, quality, releasedLots, opened, signAll } = await mainLine();
const lab = await as('lab');
const day = (ago: number) => new Date(Date.now() - ago * 86_400_000);

let thermometerId: number;
const tankId = () => shop.tanks[0]?.tankId ?? 0;
beforeAll(async () => {
  const { id, version } = await db.prisma.instrument.create({
    data: { code: 'TH-1', name: 'Tank thermometer', kind: 'thermometer' },
  });
  thermometerId = id;
  await ok(
    lab({
      method: 'PUT',
      url: `/api/instruments/${id}/places`,
      headers: { 'if-match': `"${version}"` },
      payload: { places: [{ quantity: 'temperatureC', tankId: tankId(), supplyId: null }] },
    }),
  );
});
const dueOn = (calibrationDueOn: Date | null) =>
  db.prisma.instrument.update({ where: { id: thermometerId }, data: { calibrationDueOn } });
const calibrated = (doneOn: Date, asFound: number, nextDueOn: Date | null = null) =>
  ok(
    post(lab, `/instruments/${thermometerId}/calibrations`, {
      ...{
        doneOn: doneOn.toISOString().slice(0, 10),
        nextDueOn: nextDueOn?.toISOString().slice(0, 10) ?? null,
      },
      ...{ doneBy: 'Lab', certificateNumber: '', reference: 'platinum', referenceCertificate: 'PT 12' },
      points: [
        { ...{ reference: 60, asFound, asLeft: null, tolerance: 1 }, expandedUncertainty: null, unit: '°C' },
      ],
      ...{ note: '', fileId: null, replaces: null },
    }),
    201,
  );
const warm = (instrumentId?: number | null) => [{ ...reading('temperatureC', 60), instrumentId }];
const signFirst = (traveler: Traveler, readings: object[], extra: object = {}) =>
  post(operator, `/steps/${traveler.steps[0]?.id}/sign-off`, signOff(24, readings, extra));
const lotOpened = async () => {
  const [lot] = (await releasedLots()) as [LotSummary];
  return { lot, traveler: await opened(lot.id) };
};
const signedReading = ({ steps }: Traveler) => steps[0]?.signOff?.readings[0];

describe('a reading at a tank', () => {
  it('asked for a tap: what reads there is known by itself, and how it stands', async () => {
    const { traveler } = await lotOpened();
    expect(traveler.steps[0]?.instruments).toMatchObject([
      { quantity: 'temperatureC', id: thermometerId, code: 'TH-1', fault: null },
    ]);
    const signed = await ok<Traveler>(signFirst(traveler, warm(thermometerId)), 201);
    expect(signedReading(signed)).toMatchObject({
      ...{ instrument: 'TH-1 Tank thermometer', instrumentId: thermometerId, instrumentFault: null },
    });
    expect(signed.steps[0]?.instruments).toEqual([]);
  });

  it('of a tablet that knows no register yet was refused, or given an instrument that nobody named', async () => {
    const { traveler } = await lotOpened();
    const old = [{ quantity: 'temperatureC', value: 60, instrument: 'the blue one' }];
    const signed = await ok<Traveler>(signFirst(traveler, old), 201);
    expect(signedReading(signed)).toMatchObject({ instrument: 'the blue one', instrumentId: null });
  });

  it('named what is not there, is gone, or reads something else', async () => {
    const { traveler } = await lotOpened();
    const gone = await db.prisma.instrument.create({
      data: { code: 'TH-0', name: 'Broken', kind: 'thermometer', archivedAt: day(2) },
    });
    for (const id of [99_999, gone.id, shop.colourMeterId]) {
      const reply = await signFirst(traveler, warm(id));
      expect([reply.statusCode, reply.json<{ issues: object[] }>().issues[0]]).toMatchObject([
        422,
        { path: 'readings.0.instrumentId' },
      ]);
    }
    expect((await opened(traveler.lot.id)).steps[0]?.signOff).toBeNull();
  });

  it('was overdue, and a calibration afterwards washed it clean; the certificate said nothing', async () => {
    await dueOn(day(5));
    const { lot, traveler } = await lotOpened();
    await ok(signFirst(traveler, warm(thermometerId)), 201);
    await dueOn(day(-300));
    const after = await opened(lot.id);
    expect(signedReading(after)?.instrumentFault).toBe('overdue');
    for (const step of after.steps.slice(1))
      await ok(post(operator, `/steps/${step.id}/sign-off`, signOff(24, good[step.position] ?? [])), 201);
    const check = { acceptedCount: 24, rejectedCount: 0, reworkCount: 0, reason: '', notes: '' };
    await ok(post(quality, `/lots/${lot.id}/final-check`, check), 201);
    const { shipments } = await ok<Lot>(
      post(planner, `/lots/${lot.id}/shipments`, { quantity: 24, carrier: 'van', document: 'D', notes: '' }),
      201,
    );
    const sheet = await ok<CertificateSheet>(
      quality({ url: `/api/shipments/${shipments[0]?.id}/certificate-sheet` }),
    );
    expect(sheet.concerns.join()).toContain(
      'temperature was read with TH-1 Tank thermometer, which was overdue for calibration',
    );
    const frozen = db.prisma.stepReading.updateMany({
      where: { instrumentId: thermometerId },
      data: { instrumentFault: null },
    });
    await expect(frozen).rejects.toThrow();
  });

  it('late from a tablet counts by the day it was read, not the day it came', async () => {
    // Good for a year two years ago, calibrated again today: it was overdue in between, whatever stands today.
    await calibrated(day(730), 60, day(365));
    await calibrated(day(0), 60, day(-365));
    const { traveler } = await lotOpened();
    const signed = await ok<Traveler>(signFirst(traveler, warm(thermometerId)), 201);
    expect(signedReading(signed)?.instrumentFault).toBeNull();
    const [row] = await db.execute(sql`
      select instrument_fault_on(${thermometerId}, (now() - interval '3 days')::date) as "then",
             instrument_fault_on(${thermometerId}, now()::date) as "now"`);
    expect(row).toEqual({ then: 'overdue', now: null });
  });

  it('with a meter that failed was taken as if nothing were, and looking back did not find the lot', async () => {
    const { lot, traveler } = await lotOpened();
    await calibrated(day(0), 66);
    const { calibrations } = await ok<InstrumentRecord>(lab({ url: `/api/instruments/${thermometerId}` }));
    expect(calibrations[0]).toMatchObject({ asFound: 'fail', lastGoodOn: day(0).toISOString().slice(0, 10) });
    expect((await opened(lot.id)).steps[0]?.instruments[0]?.fault).toBe('failed');
    const signed = await ok<Traveler>(signFirst(traveler, warm(thermometerId)), 201);
    expect(signedReading(signed)?.instrumentFault).toBe('failed');
    const { items } = await ok<z.output<typeof lookBack.reply>>(
      quality({ url: `/api/look-back?about=instrument-${thermometerId}` }),
    );
    expect(items.find(({ id }) => id === lot.id)?.ties).toMatchObject([{ kind: 'reading' }]);
  });

  it('a colour was read with a meter that failed', async () => {
    await db.prisma.instrumentCalibration.create({
      data: {
        ...{ instrumentId: shop.colourMeterId, doneOn: day(1), doneBy: 'Lab', reference: 'tile' },
        ...{ referenceCertificate: 'T 1', asFound: 'fail', asLeft: 'fail', recordedById: shop.authorId },
        points: [
          { reference: 95, asFound: 90, asLeft: null, tolerance: 1, expandedUncertainty: null, unit: '' },
        ],
      },
    });
    const { lot } = await lotOpened();
    await signAll(lot.id);
    const conditions = { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 };
    const read = {
      ...{ zone: '', place: 'blade', spot: null, grade: 'measured', lab: { L: 40, a: 8, b: -30 } },
      ...{ spectrum: null, instrumentId: shop.colourMeterId, instrument: '', expandedUncertainty: 0.5 },
      ...{ conditions, outcome: null, confirmed: false, note: '' },
    };
    const body = { readings: [read], fileName: '', second: null };
    const reply = await post(quality, `/lots/${lot.id}/colour-readings`, body);
    expect(reply.statusCode).toBe(422);
    expect(reply.body).toContain('failed its calibration');
  });
});
