import type {
  CertificateSheet,
  Lot,
  Nonconformance,
  NonconformanceSheet,
  ReworkShare,
} from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { good, ok, post, signOff } from '../../../../../tests/support/main-line.ts';
import { nonconformingLine } from '../../../../../tests/support/nonconforming.ts';

const { db, operator, quality, opened, ...line } = await nonconformingLine();
const { checked, lotNow, open, dispose, entry, ship, checkOf } = line;

describe('a nonconformance', () => {
  it('was typed again though the record knew it: reject, lot and readings are pulled in', async () => {
    const lot = await checked();
    const sheet = await ok<NonconformanceSheet>(
      quality({ url: `/api/lots/${lot.id}/nonconformance-sheet?finalCheckId=${lot.checks[0]?.id}` }),
    );
    expect(sheet.known).toMatchObject({
      ...{
        foundAt: 'inspection',
        piecesAffected: 4,
        piecesInspected: 24,
        description: 'powdery at the edge',
      },
    });
    const opened = await ok<Nonconformance>(open(lot.id, checkOf(lot)), 201);
    expect(opened).toMatchObject({ state: 'open', undecided: 4, record: sheet.record });
    expect(opened.record).toMatchObject({
      lot: { number: lot.number },
      customer: { name: lot.customer.name },
    });
    expect(opened.record.steps).toHaveLength(4);
    expect(opened.record.steps[2]?.readings).toMatchObject([
      { quantity: 'voltageV', value: 30 },
      { quantity: 'currentA', value: 20 },
    ]);
    const found = await ok<{ items: { number: string }[] }>(
      quality({ url: `/api/search?q=${opened.number}` }),
    );
    expect(JSON.stringify(found)).toContain(opened.number);
    const trace = await ok<{ events: { title: string }[] }>(quality({ url: `/api/lots/${lot.id}/trace` }));
    expect(trace.events.map(({ title }) => title)).toContain(`Nonconformance ${opened.number}: opened`);
  });

  it.each([
    [{ piecesAffected: 5 }, 'piecesAffected'],
    [{ piecesInspected: 2 }, 'piecesInspected'],
    [{ foundOn: '2999-01-01' }, 'foundOn'],
    [{ foundAt: 'customer', finalCheckId: null }, 'foundAt'],
    [{ measuredValue: 4.2 }, 'measuredUnit'],
    [{ finalCheckId: 999_999 }, 'finalCheckId'],
    [{ photoIds: [999_999] }, 'photoIds.0'],
    [{ fault: 'ugly' }, 'fault'],
  ])('was opened over what cannot be: %j', async (extra, path) => {
    const lot = await checked();
    const refused = await open(lot.id, { ...checkOf(lot), ...extra });
    expect(refused.statusCode, refused.body).toBe(422);
    expect(refused.json()).toMatchObject({ issues: [{ path }] });
  });

  it('was changed after it was opened', async () => {
    const lot = await checked();
    const { id } = await ok<Nonconformance>(open(lot.id, checkOf(lot)), 201);
    await ok(dispose(id), 201);
    await ok(entry(id, { kind: 'cause', text: 'dirty rinse' }), 201);
    for (const statement of [
      `update "nonconformance" set "piecesAffected" = 1 where "id" = ${id}`,
      `update "nonconformance" set "record" = '{}' where "id" = ${id}`,
      `delete from "nonconformance" where "id" = ${id}`,
      `update "nonconformance_disposition" set "pieces" = 1 where "nonconformanceId" = ${id}`,
      `update "nonconformance_entry" set "text" = 'none' where "nonconformanceId" = ${id}`,
      `delete from "nonconformance_entry" where "nonconformanceId" = ${id}`,
    ])
      await expect(db.pool.query(statement), statement).rejects.toThrow();
  });

  it('was written down wrongly: a correction stands beside it and counts', async () => {
    const lot = await checked();
    const { id } = await ok<Nonconformance>(open(lot.id, { ...checkOf(lot), piecesAffected: 3 }), 201);
    const correct = (field: string, newValue: string, ask = quality) =>
      entry(id, { kind: 'correction', field, newValue, text: 'counted again' }, ask);
    const corrected = await ok<Nonconformance>(correct('piecesAffected', '4'), 201);
    expect(corrected).toMatchObject({ piecesAffected: 4, undecided: 4, corrected: ['piecesAffected'] });
    await ok(dispose(id, { pieces: 4 }), 201);
    for (const [field, value] of [
      ['piecesAffected', '3'],
      ['piecesAffected', '25'],
      ['piecesAffected', 'four'],
      ['fault', 'ugly'],
      ['measuredValue', 'much'],
      ['foundOn', 'yesterday'],
    ] as const)
      expect((await correct(field, value)).statusCode, `${field} ${value}`).toBe(422);
    expect((await correct('place', 'rim', operator)).statusCode).toBe(403);
  });
});

it('a rework allowance rests on what went round, by final checks and by dispositions', async () => {
  const share = () => ok<ReworkShare>(quality({ url: `/api/parts/${line.shop.partId}/rework-share` }));
  const before = await share();
  const lot = await checked({ rejected: 4 });
  const { id } = await ok<Nonconformance>(open(lot.id, checkOf(lot)), 201);
  await ok(dispose(id, { disposition: 'rework', pieces: 3 }), 201);
  await checked({ rejected: 0, rework: 2 });
  const after = await share();
  expect([after.lots - before.lots, after.pieces - before.pieces, after.reworked - before.reworked]).toEqual([
    2, 48, 5,
  ]);
  expect(after.interval?.low).toBeLessThan(after.reworked / after.pieces);
  expect(after.interval?.high).toBeGreaterThan(after.reworked / after.pieces);
  expect(await ok<ReworkShare>(quality({ url: '/api/parts/999999/rework-share' }))).toMatchObject({
    ...{ lots: 0, interval: null },
  });
});

describe('pieces of an open nonconformance', () => {
  it('were shipped before it was decided about them', async () => {
    const lot = await checked({ rejected: 0 });
    const { id, number } = await ok<Nonconformance>(open(lot.id, { piecesAffected: 10 }), 201);
    const refused = await ship(lot.id, 20);
    expect(refused.statusCode).toBe(409);
    expect(refused.body).toContain(`${number}: at most 14 can be shipped`);
    await ok(ship(lot.id, 14), 201);
    const shipment = (await lotNow(lot.id)).shipments[0]?.id ?? 0;
    const sheet = () =>
      ok<CertificateSheet>(quality({ url: `/api/shipments/${shipment}/certificate-sheet` }));
    expect((await sheet()).obstacles.join(' ')).toContain(number);
    await ok(dispose(id, { disposition: 'use-as-is', pieces: 10, takenFrom: 'accepted' }), 201);
    expect(await sheet()).toMatchObject({
      ...{ obstacles: [], concerns: [`Nonconformance ${number}, 10 pieces, powdery film: open.`] },
    });
    await ok(ship(lot.id, 10), 201);
  });

  it('were rejected before: the good ones go out, and the certificate has to say so', async () => {
    const lot = await checked();
    const { number } = await ok<Nonconformance>(open(lot.id, checkOf(lot)), 201);
    const { shipments } = await ok<Lot>(ship(lot.id, 20), 201);
    const sheet = await ok<CertificateSheet>(
      quality({ url: `/api/shipments/${shipments[0]?.id}/certificate-sheet` }),
    );
    expect(sheet.obstacles).toEqual([]);
    expect(sheet.concerns.join(' ')).toContain(number);
  });

  it.each([
    ['scrap', 'rejected', [20, 4, 0]],
    ['return', 'accepted', [16, 8, 0]],
    ['use-as-is', 'rejected', [24, 0, 0]],
    ['rework', 'rejected', [20, 0, 0]],
    ['rework', 'accepted', [16, 4, 0]],
  ] as const)('%s of %s pieces left counts that do not add up', async (kind, takenFrom, counts) => {
    const lot = await checked();
    const { id } = await ok<Nonconformance>(open(lot.id, takenFrom === 'rejected' ? checkOf(lot) : {}), 201);
    await ok(dispose(id, { disposition: kind, takenFrom }), 201);
    const { acceptedCount, rejectedCount, shippedCount, status, travelers } = await lotNow(lot.id);
    expect([acceptedCount, rejectedCount, shippedCount]).toEqual(counts);
    expect(status).toBe(kind === 'rework' ? 'released' : 'passed');
    expect(travelers.filter((one) => one.kind === 'rework').map(({ quantity }) => quantity)).toEqual(
      kind === 'rework' ? [4] : [],
    );
  });

  it('came back from the customer, went round and out again', async () => {
    const lot = await checked({ rejected: 0 });
    const shipped = await ok<Lot>(ship(lot.id, 24), 201);
    expect(shipped.status).toBe('shipped');
    const { id } = await ok<Nonconformance>(
      open(lot.id, { foundAt: 'customer', shipmentId: shipped.shipments[0]?.id, customerReference: 'CLM-9' }),
      201,
    );
    await ok(dispose(id, { disposition: 'rework', takenFrom: 'shipped' }), 201);
    expect(await lotNow(lot.id)).toMatchObject({ status: 'released', acceptedCount: 20, shippedCount: 20 });
    const round = await opened(lot.id);
    expect(round.steps[0]).toMatchObject({ position: 0, kind: 'strip' });
    expect(round.head.hazards.join(' ')).toContain('calcium gluconate');
    // Nobody colours before the film is off.
    const early = round.steps[3];
    const refused = await post(operator, `/steps/${early?.id}/sign-off`, signOff(4, good[3] ?? []));
    expect(refused.statusCode).toBe(409);
    for (const step of round.steps)
      await ok(post(operator, `/steps/${step.id}/sign-off`, signOff(4, good[step.position] ?? [])), 201);
    const check = { acceptedCount: 3, rejectedCount: 1, reworkCount: 0, reason: 'burnt', notes: '' };
    await ok(post(quality, `/lots/${lot.id}/final-check`, check), 201);
    expect(await ok<Lot>(ship(lot.id, 3), 201)).toMatchObject({
      ...{ status: 'shipped', acceptedCount: 23, rejectedCount: 1, shippedCount: 23, stripCount: 1 },
    });
  });

  it.each([
    [{ pieces: 5 }, 'pieces'],
    [{ takenFrom: 'shipped' }, 'pieces'],
    [{ takenFrom: 'floor' }, 'takenFrom'],
    [{ disposition: 'concession' }, 'concessionNumber'],
    [{ disposition: 'concession', concessionNumber: 'C-4' }, 'concessionBy'],
    [{ concessionNumber: 'C-4' }, 'concessionNumber'],
    [{ authority: ' ' }, 'authority'],
  ])('were decided about as nobody can: %j', async (extra, path) => {
    const lot = await checked();
    const { id } = await ok<Nonconformance>(open(lot.id, checkOf(lot)), 201);
    const refused = await dispose(id, extra);
    expect(refused.statusCode, refused.body).toBe(422);
    expect(refused.json()).toMatchObject({ issues: [{ path }] });
  });

  it('were decided about twice at once', async () => {
    const lot = await checked();
    const { id } = await ok<Nonconformance>(open(lot.id, checkOf(lot)), 201);
    const both = await Promise.all([dispose(id), dispose(id)]);
    expect(both.map(({ statusCode }) => statusCode).toSorted()).toEqual([201, 422]);
  });

  it('went round while the lot was under way or on hold', async () => {
    const lot = await checked({ rejected: 4, rework: 2 });
    const { id } = await ok<Nonconformance>(open(lot.id, checkOf(lot)), 201);
    expect((await dispose(id, { disposition: 'rework' })).statusCode).toBe(409);
    const held = await checked();
    const second = await ok<Nonconformance>(open(held.id, checkOf(held)), 201);
    await ok(post(quality, `/lots/${held.id}/hold`, { reason: 'look' }), 201);
    expect((await dispose(second.id, { disposition: 'rework' })).json()).toMatchObject({ code: 'on-hold' });
  });
});
