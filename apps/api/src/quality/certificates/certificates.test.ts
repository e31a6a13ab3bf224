import { createHash } from 'node:crypto';
import type { Certificate, CertificateSheet, Lot, LotSummary } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Ask } from '../../../../../tests/support/app.ts';
import { good, mainLine, ok, post, reading, signOff } from '../../../../../tests/support/main-line.ts';
import { readPdf } from '../../../../../tests/support/pdf.ts';

const { app, db, as, shop, planner, operator, quality, releasedLots, opened } = await mainLine();
const estimator = await as('estimator');
const stranger: Ask = (options) => app.inject(options);
beforeAll(async () => {
  await db.prisma.shop.update({
    where: { id: 1 },
    data: { name: 'Row Works', address: '1 Row, Mill Lane', retentionYears: 12 },
  });
});

/** A lot through its steps, the first of them as asked, checked and shipped in two parts. */
async function shipped({ temperatureC = 60, reason = '', whole = true } = {}): Promise<Lot> {
  const [lot] = (await releasedLots()) as [LotSummary];
  for (const { id, position } of (await opened(lot.id)).steps) {
    const readings = position === 1 ? [reading('temperatureC', temperatureC)] : (good[position] ?? []);
    const extra = position === 1 ? { reason } : {};
    await ok(post(operator, `/steps/${id}/sign-off`, signOff(24, readings, extra)), 201);
    const held = await ok<Lot>(quality({ url: `/api/lots/${lot.id}` }));
    if (held.held) await ok(post(quality, `/lots/${lot.id}/hold/release`, { reason: 'seen, no matter' }));
  }
  const check = { acceptedCount: 23, rejectedCount: 1, reworkCount: 0, reason: 'scratched', notes: '' };
  await ok(post(quality, `/lots/${lot.id}/final-check`, check), 201);
  const ship = (quantity: number, document: string) =>
    ok<Lot>(
      post(planner, `/lots/${lot.id}/shipments`, { quantity, carrier: 'van', document, notes: '' }),
      201,
    );
  const part = await ship(20, 'D-1');
  return whole ? ship(3, 'D-2') : part;
}
const body = (extra: object = {}) => ({
  ...{ statement: 'Done as ordered.', deviations: '', jobTitle: 'Head of quality', replaces: null },
  ...extra,
});
const sign = (shipmentId: number, extra: object = {}, ask = quality) =>
  post(ask, `/shipments/${shipmentId}/certificates`, body(extra));
const sheetOf = (shipmentId: number) =>
  ok<CertificateSheet>(quality({ url: `/api/shipments/${shipmentId}/certificate-sheet` }));
const pdfOf = async ({ id }: Certificate) =>
  (await estimator({ url: `/api/certificates/${id}/pdf` })).rawPayload;
const textOf = async (bytes: Buffer) => (await readPdf(bytes)).map(({ text }) => text).join(' ');
const first = ({ shipments }: Lot) => shipments[0]?.id ?? 0;

describe('a certificate', () => {
  it('was written beside the record: it says what the record says, and its paper is the same bytes for ever', async () => {
    const lot = await shipped();
    const [one, two] = lot.shipments;
    const sheet = await sheetOf(one?.id ?? 0);
    expect(sheet).toMatchObject({ obstacles: [], last: null });
    const certificate = await ok<Certificate>(
      sign(one?.id ?? 0, { deviations: 'One piece scratched, not shipped.' }),
      201,
    );
    expect(certificate).toMatchObject({
      revision: 1,
      state: 'stands',
      quantity: 20,
      signedBy: expect.stringMatching(/^quality/) as string,
    });
    const bytes = await pdfOf(certificate);
    expect(createHash('sha256').update(bytes).digest('hex')).toBe(certificate.sha256);
    await db.prisma.shop.update({ where: { id: 1 }, data: { name: 'Other Works' } });
    await db.prisma.customer.update({ where: { id: shop.customerId }, data: { name: 'Other name' } });
    expect((await pdfOf(certificate)).equals(bytes)).toBe(true);
    await db.prisma.shop.update({ where: { id: 1 }, data: { name: 'Row Works' } });
    const text = await textOf(bytes);
    for (const words of [
      ...['Row Works', '1 Row, Mill Lane', `${certificate.number} revision 1`, 'PO 7', 'van, D-1'],
      ...['20 pieces', lot.number, one?.number ?? '', 'Head of quality', 'at least 12 years'],
      ...['One piece scratched, not shipped.', 'Done as ordered.', certificate.checkCode],
    ])
      expect(text).toContain(words);
    // The other shipment is another certificate, of what it holds.
    const other = await ok<Certificate>(sign(two?.id ?? 0, { deviations: 'None.' }), 201);
    expect(other).toMatchObject({ revision: 1, quantity: 3 });
    expect(other.number).not.toBe(certificate.number);
  });

  it('was changed after it was signed', async () => {
    const lot = await shipped();
    const { id } = await ok<Certificate>(sign(first(lot), { deviations: 'As noted.' }), 201);
    for (const statement of [
      `update "certificate" set "deviations" = 'None.' where "id" = ${id}`,
      `update "certificate" set "facts" = '{}' where "id" = ${id}`,
      `update "certificate" set "snapshot" = '{}' where "id" = ${id}`,
      `delete from "certificate" where "id" = ${id}`,
      `truncate "certificate" cascade`,
    ])
      await expect(db.pool.query(statement), statement).rejects.toThrow();
  });

  it('went out over what had happened: a step outside its limits takes a word, and the word is printed', async () => {
    const lot = await shipped({ temperatureC: 66, reason: 'gauge was replaced' });
    const { concerns } = await sheetOf(first(lot));
    expect(concerns.join(' ')).toMatch(/step 1.*signed outside its limits\. gauge was replaced/);
    expect(concerns.join(' ')).toMatch(/Was on hold: .*Released by quality[^:]*: seen, no matter/);
    const refused = await sign(first(lot), { deviations: '   ' });
    expect(refused.statusCode).toBe(422);
    expect(refused.json()).toMatchObject({ issues: [{ path: 'deviations' }] });
    const certificate = await ok<Certificate>(
      sign(first(lot), { deviations: 'Cleaned at 66 °C, which does not matter to the film.' }),
      201,
    );
    expect(certificate.concerns).toEqual(concerns);
    expect(await textOf(await pdfOf(certificate))).toContain('Cleaned at 66 °C');
  });

  it('was signed while the lot was on hold', async () => {
    const lot = await shipped({ whole: false });
    await ok(post(quality, `/lots/${lot.id}/hold`, { reason: 'customer found stains' }), 201);
    expect((await sheetOf(first(lot))).obstacles.join(' ')).toContain('customer found stains');
    const refused = await sign(first(lot), { deviations: 'None.' });
    expect(refused.statusCode).toBe(409);
    expect(refused.body).toContain('is on hold');
  });

  it('was signed by who may not, or who did not give a credential', async () => {
    const lot = await shipped();
    for (const ask of [planner, operator, estimator])
      expect((await sign(first(lot), {}, ask)).statusCode).toBe(403);
    expect((await operator({ url: '/api/certificates' })).statusCode).toBe(403);
    expect((await sign(999_999)).statusCode).toBe(404);
  });
});

describe('a wrong certificate', () => {
  it('is replaced with a reason, never a second time, and never by one beside it', async () => {
    const lot = await shipped();
    const id = first(lot);
    const wrong = await ok<Certificate>(sign(id, { deviations: 'None.' }), 201);
    expect((await sign(id, { deviations: 'None.' })).json()).toMatchObject({ code: 'already-exists' });
    const replaces = { id: wrong.id, reason: 'wrong order number on it' };
    const [one, two] = await Promise.all([
      sign(id, { deviations: 'None.', replaces }),
      sign(id, { deviations: 'None.', replaces }),
    ]);
    expect([one.statusCode, two.statusCode].toSorted()).toEqual([201, 422]);
    const right = (one.statusCode === 201 ? one : two).json<Certificate>();
    expect(right).toMatchObject({ number: wrong.number, revision: 2, replaces: { id: wrong.id } });
    const before = await ok<Certificate>(quality({ url: `/api/certificates/${wrong.id}` }));
    expect(before).toMatchObject({
      ...{ state: 'replaced', replacedBy: { id: right.id, reason: 'wrong order number on it' } },
    });
    expect(await textOf(await pdfOf(right))).toContain('Replaces revision 1');
    expect((await post(quality, `/certificates/${wrong.id}/withdrawal`, { reason: 'late' })).statusCode).toBe(
      409,
    );
  });

  it('is withdrawn, once, and whoever holds a copy is told without a sign-in', async () => {
    const lot = await shipped();
    const certificate = await ok<Certificate>(sign(first(lot), { deviations: 'None.' }), 201);
    const check = async () => {
      const reply = await stranger({ url: `/api/certificate-checks/${certificate.checkCode}` });
      expect(reply.statusCode, reply.body).toBe(200);
      return reply.json<object>();
    };
    const { number, revision, sha256 } = certificate;
    expect(await check()).toEqual({ number, revision, sha256, state: 'stands', underReview: false });
    const withdraw = (reason: string, ask = quality) =>
      post(ask, `/certificates/${certificate.id}/withdrawal`, { reason });
    expect((await withdraw('mine', planner)).statusCode).toBe(403);
    expect((await withdraw('')).statusCode).toBe(422);
    const withdrawn = await ok<Certificate>(withdraw('thermometer read 4 K low'));
    expect(withdrawn).toMatchObject({
      ...{
        state: 'withdrawn',
        withdrawn: { by: expect.stringMatching(/^quality/) as string, reason: 'thermometer read 4 K low' },
      },
    });
    expect((await withdraw('again')).statusCode).toBe(409);
    expect(await check()).toEqual({ number, revision, sha256, state: 'withdrawn', underReview: false });
    const replaces = { id: certificate.id, reason: 'measured again' };
    await ok(sign(first(lot), { deviations: 'None.', replaces }), 201);
  });

  it.each(['0000-0000-0000-0000', '', 'nonsense', '../../people', '0000-0000-0000-000U'])(
    'was looked for by the code %j',
    async (code) => {
      const reply = await stranger({ url: `/api/certificate-checks/${encodeURIComponent(code)}` });
      expect([404, 422]).toContain(reply.statusCode);
    },
  );
});

it('a promised certificate was forgotten: it waits on Today until one stands', async () => {
  const lot = await shipped();
  const waiting = async () => {
    const { sections } = await ok<{ sections: { key: string; items: { page: { id: number } }[] }[] }>(
      quality({ url: '/api/today' }),
    );
    return sections.find(({ key }) => key === 'certificates')?.items.map(({ page }) => page.id) ?? [];
  };
  expect(await waiting()).toContain(first(lot));
  const { id } = await ok<Certificate>(sign(first(lot), { deviations: 'None.' }), 201);
  expect(await waiting()).not.toContain(first(lot));
  await ok(post(quality, `/certificates/${id}/withdrawal`, { reason: 'wrong lot' }));
  expect(await waiting()).toContain(first(lot));
});

it('lists certificates, the newest first, by what stands on them', async () => {
  const lot = await shipped();
  const { number } = await ok<Certificate>(sign(first(lot), { deviations: 'None.' }), 201);
  const list = async (query: string) =>
    (await ok<{ items: Certificate[] }>(estimator({ url: `/api/certificates?${query}` }))).items;
  expect((await list('limit=1'))[0]?.number).toBe(number);
  expect((await list(`search=${lot.number}`)).map((one) => one.number)).toEqual([number]);
  expect((await list(`lotId=${lot.id}`)).map((one) => one.lot.id)).toEqual([lot.id]);
  expect((await list('state=withdrawn')).every(({ state }) => state === 'withdrawn')).toBe(true);
  expect(await list('search=zzzz')).toEqual([]);
  const found = await ok<{ items: { kind: string; number: string }[] }>(
    estimator({ url: `/api/search?q=${number}` }),
  );
  expect(found.items).toMatchObject([{ kind: 'certificate', number }]);
  const { events } = await ok<{ events: { kind: string; title: string }[] }>(
    quality({ url: `/api/lots/${lot.id}/trace` }),
  );
  expect(events.at(-1)).toMatchObject({ kind: 'certified', title: `Certificate ${number} revision 1` });
});
