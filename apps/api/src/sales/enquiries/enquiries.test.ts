import type { Enquiry, EnquiryItem, Quotation } from '@huelot/contracts';
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, it } from 'vitest';
import { sql } from '../../db/client.ts';
import type { Ask } from '../../../../../tests/support/app.ts';
import { couponsFor } from '../../../../../tests/support/evidence.ts';
import { mainLine, ok, post } from '../../../../../tests/support/main-line.ts';
import { multipart } from '../../../../../tests/support/multipart.ts';

const { db, as, shop, estimator, planner, operator, draft } = await mainLine();
const lab = await as('lab');

let ownerId: number;
beforeAll(async () => {
  const { items } = await ok<{ items: { id: number }[] }>(estimator({ url: '/api/enquiry-owners' }));
  ownerId = items[0]?.id ?? 0;
});
const facts = (extra: object = {}) => ({
  ...{ customerId: null, customerName: 'Alder works', contact: 'Pia', words: 'forty clips, deep blue' },
  ...{ colourName: 'deep blue', colour: { L: 35, a: 12, b: -45 }, colourStandardId: null },
  ...{ baseMetal: null, materialId: shop.materialId, quantity: 40, dueOn: '2099-02-01', sample: null },
  ...{ pictureIds: [], ownerId },
  ...extra,
});
const written = (extra: object = {}) => ok<Enquiry>(post(estimator, '/enquiries', facts(extra)), 201);
const act = (...[enquiry, verb, payload, ask = estimator]: [Enquiry, string, object, Ask?]) =>
  post(ask, `/enquiries/${enquiry.id}/${verb}`, payload, { 'if-match': `"${enquiry.version}"` });
const reread = ({ id }: Enquiry) => ok<Enquiry>(estimator({ url: `/api/enquiries/${id}` }));
const paths = (reply: { json: <T>() => T }) =>
  (reply.json<{ issues?: { path: string }[] }>().issues ?? []).map(({ path }) => path);
const quote = (enquiry: Enquiry, extra: object = {}) =>
  post(estimator, '/quotations', {
    ...{ customerId: shop.customerId, enquiryId: enquiry.id },
    ...draft([48]),
    ...extra,
  });

describe('an enquiry', () => {
  it('keeps the words, the colour, the sample and when it must go back', async () => {
    const sample = { name: 'clip', keptAt: 'drawer 4', dueBackOn: '2099-03-01', returnedOn: null };
    const enquiry = await written({ sample });
    expect(enquiry).toMatchObject({
      ...{ status: 'open', customer: null, customerName: 'Alder works', words: 'forty clips, deep blue' },
      ...{ colour: { L: 35, a: 12, b: -45 }, sample, quantity: 40, decisions: [] },
      material: { id: shop.materialId },
    });
    expect(enquiry.number).toMatch(/^E-\d{5}$/);
  });

  it.each([
    ['nobody asks', { customerName: ' ' }, 'customerName'],
    ['two ask', { customerId: 1 }, 'customerName'],
    ['the customer is none', { customerId: 999_999, customerName: '' }, 'customerId'],
    ['the material is none', { materialId: 999_999 }, 'materialId'],
    ['the metal is not that of the material', { baseMetal: 'steel' }, 'baseMetal'],
    ['the standard is none', { colourStandardId: 999_999 }, 'colourStandardId'],
    ['nobody answers it', { ownerId: 999_999 }, 'ownerId'],
    ['a picture is none', { pictureIds: [999_999] }, 'pictureIds.0'],
    ['no piece is wanted', { quantity: 0 }, 'quantity'],
  ])('was written down although %s', async (_, extra, path) => {
    const reply = await post(estimator, '/enquiries', facts(extra));
    expect(reply.statusCode).toBe(422);
    expect(paths(reply)).toContain(path);
  });

  it('saved over what somebody else had saved', async () => {
    const enquiry = await written();
    const put = (version: number, words: string) =>
      estimator({
        method: 'PUT',
        url: `/api/enquiries/${enquiry.id}`,
        payload: facts({ words }),
        headers: { 'if-match': `"${version}"` },
      });
    await ok(put(enquiry.version, 'fifty'));
    const late = await put(enquiry.version, 'sixty');
    expect(late.statusCode).toBe(412);
    expect((await reread(enquiry)).words).toBe('fifty');
  });

  it('shows its pictures to those who may read enquiries, and to nobody else', async () => {
    const png = Buffer.from(
      'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
      'base64',
    );
    const sent = await ok<{ id: number }>(
      estimator({ method: 'POST', url: '/api/files', ...multipart({ name: 'clip.png', content: png }) }),
      201,
    );
    const enquiry = await written({ pictureIds: [sent.id] });
    expect(enquiry.pictures).toMatchObject([{ name: 'clip.png' }]);
    await ok(lab({ url: `/api/files/${sent.id}` }));
    expect((await operator({ url: `/api/files/${sent.id}` })).statusCode).toBe(404);
    // Another person's file is not hung on an enquiry to read it.
    const theirs = await ok<{ id: number }>(
      planner({ method: 'POST', url: '/api/files', ...multipart({ name: 'own.png', content: png }) }),
      201,
    );
    expect(paths(await post(estimator, '/enquiries', facts({ pictureIds: [theirs.id] })))).toEqual([
      'pictureIds.0',
    ]);
  });

  it('is read by planner and lab, and written by the estimator alone', async () => {
    const enquiry = await written();
    await ok(planner({ url: `/api/enquiries/${enquiry.id}` }));
    expect((await operator({ url: '/api/enquiries' })).statusCode).toBe(403);
    expect((await act(enquiry, 'decline', { reason: 'no' }, planner)).statusCode).toBe(403);
  });
});

describe('a declined enquiry', () => {
  it('lost its reason when it was opened again: it keeps every one', async () => {
    let enquiry = await written();
    enquiry = await ok<Enquiry>(act(enquiry, 'decline', { reason: 'no bath for it' }));
    expect(enquiry.status).toBe('declined');
    expect((await quote(enquiry)).statusCode).toBe(409);
    enquiry = await ok<Enquiry>(act(enquiry, 'reopen', { reason: 'they take grey' }));
    expect(enquiry.status).toBe('open');
    expect(enquiry.decisions.map(({ reason }) => reason)).toEqual(['they take grey', 'no bath for it']);
    expect((await act(enquiry, 'reopen', { reason: 'again' })).statusCode).toBe(409);
    expect(paths(await act(enquiry, 'decline', { reason: ' ' }))).toEqual(['reason']);
  });

  it('had its reason rewritten in the database', async () => {
    await ok(act(await written(), 'decline', { reason: 'too thick' }));
    await expect(db.execute(sql`update "enquiry_decision" set "reason" = 'other'`)).rejects.toThrow();
    await expect(db.execute(sql`delete from "enquiry_decision"`)).rejects.toThrow();
  });
});

describe('a trial', () => {
  it('is asked for by the estimator and linked to coupons by the lab', async () => {
    let enquiry = await written();
    enquiry = await ok<Enquiry>(act(enquiry, 'trial', { reason: 'is it even?', seriesId: null }));
    expect(enquiry).toMatchObject({ status: 'trial-asked', series: null });
    const waiting = async () =>
      (await ok<{ sections: { key: string; total: number }[] }>(lab({ url: '/api/today' }))).sections.find(
        ({ key }) => key === 'trialsAsked',
      )?.total;
    expect(await waiting()).toBe(1);
    const { seriesId } = await couponsFor(db, {
      revisionId: shop.recipeRevisionId,
      materialId: shop.materialId,
    });
    expect((await act(enquiry, 'trial/series', { seriesId })).statusCode).toBe(403);
    expect(paths(await act(enquiry, 'trial/series', { seriesId: 999_999 }, lab))).toEqual(['seriesId']);
    enquiry = await ok<Enquiry>(act(enquiry, 'trial/series', { seriesId }, lab));
    expect(enquiry.series?.id).toBe(seriesId);
    expect(await waiting()).toBe(0);
  });

  it('was linked to an enquiry that nobody asked to try', async () => {
    const { seriesId } = await couponsFor(db, {
      revisionId: shop.recipeRevisionId,
      materialId: shop.materialId,
    });
    expect((await act(await written(), 'trial/series', { seriesId }, lab)).statusCode).toBe(409);
  });
});

describe('a quotation that answers an enquiry', () => {
  it('links both, and makes a customer of whoever asked', async () => {
    const enquiry = await written();
    const quotation = await ok<Quotation>(quote(enquiry), 201);
    expect(quotation.enquiry).toEqual({ id: enquiry.id, number: enquiry.number });
    expect(await reread(enquiry)).toMatchObject({
      ...{ status: 'quoted', customerName: '', customer: { id: shop.customerId } },
      quotation: { number: quotation.number },
    });
    // It is answered once.
    expect((await quote(enquiry)).statusCode).toBe(409);
    expect(paths(await quote({ ...enquiry, id: 999_999 }))).toEqual(['enquiryId']);
  });

  it('was written for another customer than the one who asked', async () => {
    const other = await db.prisma.customer.create({
      data: { number: 'C-OTHER', name: 'Other', currency: 'EUR' },
    });
    const enquiry = await written({ customerId: other.id, customerName: '' });
    const before = await db.prisma.quotation.count();
    expect(paths(await quote(enquiry))).toEqual(['enquiryId']);
    expect(await db.prisma.quotation.count()).toBe(before);
    expect((await reread(enquiry)).status).toBe('open');
  });

  it('left the enquiry quoted when its only draft was discarded: it is open again, and says so', async () => {
    const enquiry = await written();
    const quotation = await ok<Quotation>(quote(enquiry), 201);
    await ok(
      estimator({
        method: 'DELETE',
        url: `/api/quotations/${quotation.id}/draft`,
        payload: {},
        headers: { 'if-match': `"${quotation.version}"` },
      }),
    );
    const after = await reread(enquiry);
    expect(after).toMatchObject({ status: 'open', quotation: null });
    expect(after.decisions[0]?.reason).toContain(quotation.number);
  });
});

it('pages in any order without losing or repeating one, and leaves as CSV', async () => {
  await written({ dueOn: null });
  for (const key of ['createdAt', 'due']) {
    const read = async (sort: string) => {
      const seen: EnquiryItem[] = [];
      for (let after: string | null = ''; after !== null;) {
        const page: { items: EnquiryItem[]; next: string | null } = await ok(
          estimator({ url: `/api/enquiries?limit=2&sort=${sort}&after=${after}` }),
        );
        seen.push(...page.items);
        after = page.next;
      }
      return seen.map(({ id }) => id);
    };
    const upwards = await read(key);
    expect(upwards.length).toBeGreaterThan(5);
    expect(new Set(upwards).size).toBe(upwards.length);
    expect(await read(`-${key}`)).toEqual(upwards.toReversed());
  }
  const declined = await estimator({ url: '/api/enquiries.csv?status=declined' });
  const rows = parse<Record<string, string>>(declined.body, { columns: true, bom: true });
  expect(rows.every(({ status, reason }) => status === 'declined' && reason !== '')).toBe(true);
  expect(rows.length).toBeGreaterThan(0);
});

it('Today shows what nobody answered for days, and what must go back to its owner', async () => {
  const old = await written({
    sample: { name: 'lent clip', keptAt: '', dueBackOn: '2026-01-05', returnedOn: null },
  });
  const sections = async () =>
    (
      await ok<{ sections: { key: string; items: { title: string; urgent: boolean }[] }[] }>(
        estimator({ url: '/api/today' }),
      )
    ).sections;
  const titles = async (name: string) =>
    (await sections()).find(({ key }) => key === name)?.items.map(({ title }) => title) ?? [];
  expect((await titles('enquiries')).join()).not.toContain(old.number);
  expect((await titles('borrowedSamples')).join()).toContain('lent clip');
  await db.prisma.enquiry.update({
    where: { id: old.id },
    data: { createdAt: new Date(Date.now() - 4 * 86_400_000), sampleReturnedOn: new Date() },
  });
  expect((await titles('enquiries')).join()).toContain(old.number);
  expect((await titles('borrowedSamples')).join()).not.toContain('lent clip');
});

it('moves with its customer when duplicates are merged', async () => {
  const double = await db.prisma.customer.create({
    data: { number: 'C-DOUBLE', name: 'Double', currency: 'EUR' },
  });
  const enquiry = await written({ customerId: double.id, customerName: '' });
  await ok(
    post(
      estimator,
      `/customers/${double.id}/merge`,
      { intoId: shop.customerId, reason: 'the same' },
      { 'if-match': '"1"' },
    ),
  );
  expect((await reread(enquiry)).customer?.id).toBe(shop.customerId);
});
