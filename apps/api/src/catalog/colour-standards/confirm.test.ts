import type { AuditEntry, ColourReading, ColourStandard, LotColour, Quotation } from '@huelot/contracts';
import { beforeAll, expect, it } from 'vitest';
import { mainLine, ok, post } from '../../../../../tests/support/main-line.ts';
import { readPdf } from '../../../../../tests/support/pdf.ts';

const { db, shop, estimator, operator, planner, quality, releasedLots, signAll, draft } = await mainLine();
const target = { L: 40, a: 8, b: -30 };
const conditions = { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 } as const;

let revisionId: number;
let standardId: number;
let lotId: number;
/** What the part said of its colour before standards were records, as the upgrade took it over. */
beforeAll(async () => {
  const standard = await db.prisma.colourStandard.create({
    data: {
      ...{ code: 'PART-1', customerId: shop.customerId },
      revisions: {
        create: {
          ...{
            revision: 1,
            status: 'approved',
            name: 'Colour of A-1',
            grade: 'measured',
            target,
            conditions,
          },
          tolerance: { from: 'target', deltaE: 3, kL: 1, kC: 1, kH: 1 },
          ...{ takenOverFrom: 'A-1 rev A', approvedAt: new Date() },
        },
      },
    },
    select: { id: true, revisions: { select: { id: true } } },
  });
  standardId = standard.id;
  revisionId = standard.revisions[0]?.id ?? 0;
  await db.prisma.part.update({ where: { id: shop.partId }, data: { colourStandardId: standardId } });
  const [lot] = await releasedLots();
  lotId = lot?.id ?? 0;
  await signAll(lotId);
});

const confirm = (ask: typeof quality, grounds = 'Compared with the drawing of A-1, agreed by M. Oakley') =>
  post(ask, `/colour-standard-revisions/${revisionId}/confirm`, { grounds }, { 'if-match': '"1"' });
/** What Today says waits to be confirmed; undefined where it has no such heading. */
const waiting = async (ask: typeof quality) =>
  (await ok<{ sections: { key: string; items: { title: string }[] }[] }>(ask({ url: '/api/today' }))).sections
    .find(({ key }) => key === 'unconfirmedStandards')
    ?.items.map(({ title }) => title);
const standardNow = () => ok<ColourStandard>(operator({ url: `/api/colour-standards/${standardId}` }));
async function quoted() {
  const quotation = await ok<Quotation>(
    post(estimator, '/quotations', { customerId: shop.customerId, ...draft([24]) }),
    201,
  );
  const sent = await ok<Quotation>(
    post(estimator, `/quotations/${quotation.id}/send`, {}, { 'if-match': `"${quotation.version}"` }),
  );
  return sent.id;
}
const paperOf = async (id: number) => {
  const reply = await estimator({ url: `/api/quotations/${id}/revisions/1/pdf` });
  const words = (await readPdf(reply.rawPayload)).map(({ text }) => text).join(' ');
  return { bytes: reply.rawPayload, words: words.replaceAll(/\s+/g, ' ') };
};
async function read(): Promise<ColourReading> {
  const { readings } = await ok<LotColour>(
    post(operator, `/lots/${lotId}/colour-readings`, {
      ...{ fileName: '', second: null },
      readings: [
        {
          ...{ zone: '', place: '', spot: null, grade: 'measured', lab: target, spectrum: null, conditions },
          ...{
            instrumentId: shop.colourMeterId,
            instrument: '',
            expandedUncertainty: 0.5,
            outcome: null,
            confirmed: false,
            note: '',
          },
        },
      ],
    }),
    201,
  );
  return readings[0] as ColourReading;
}

let before: { quotation: number; bytes: Buffer; reading: number };

it('a colour that nobody ever confirmed was promised, and judged as if somebody had', async () => {
  expect(await standardNow()).toMatchObject({ unconfirmed: true, approvedBy: null, confirmation: null });
  const listed = await ok<{ items: { code: string }[] }>(
    operator({ url: '/api/colour-standards?status=unconfirmed' }),
  );
  expect(listed.items.map(({ code }) => code)).toEqual(['PART-1']);
  expect(await waiting(quality)).toEqual(['PART-1 rev 1, Colour of A-1']);
  expect(await waiting(planner)).toBeUndefined();
  const quotation = await quoted();
  const { bytes, words } = await paperOf(quotation);
  expect(words).toContain('taken over, not confirmed');
  expect(words).toContain('Colour subject to a first article');
  expect(words).not.toContain('ΔE00 at most');
  expect(words).toContain('certificate of conformance, which does not cover colour');
  const reading = await read();
  expect(reading).toMatchObject({ verdict: 'pass', standard: { code: 'PART-1', unconfirmed: true } });
  before = { quotation, bytes, reading: reading.id };
});

it('was confirmed by somebody without the right, without grounds, or as another version', async () => {
  expect((await confirm(planner)).statusCode).toBe(403);
  expect((await confirm(quality, '  ')).json()).toMatchObject({ issues: [{ path: 'grounds' }] });
  const stale = await post(
    quality,
    `/colour-standard-revisions/${revisionId}/confirm`,
    { grounds: 'x' },
    { 'if-match': '"7"' },
  );
  expect(stale.statusCode).toBe(412);
  expect(await standardNow()).toMatchObject({ unconfirmed: true });
});

it('once confirmed it is promised on a name, and what was issued before stays as it was', async () => {
  const standard = await ok<ColourStandard>(confirm(quality));
  expect(standard).toMatchObject({
    unconfirmed: false,
    confirmation: {
      by: expect.stringMatching(/^quality/) as string,
      grounds: expect.stringContaining('M. Oakley') as string,
    },
  });
  const history = await ok<{ items: AuditEntry[] }>(
    quality({ url: `/api/history/colour-standard/${standardId}` }),
  );
  expect(history.items[0]).toMatchObject({ action: 'confirmed', changes: [{ field: 'signature' }] });
  expect(await waiting(quality)).toEqual([]);
  expect((await paperOf(before.quotation)).bytes.equals(before.bytes)).toBe(true);
  const later = await paperOf(await quoted());
  expect(later.words).toContain('ΔE00 at most 3 from the target');
  expect(later.words).not.toContain('not confirmed');

  expect((await read()).standard).toMatchObject({ unconfirmed: false });
  const { agreed, readings } = await ok<LotColour>(operator({ url: `/api/lots/${lotId}/colour` }));
  expect(agreed).toMatchObject({ code: 'PART-1', unconfirmed: false });
  expect(readings.find(({ id }) => id === before.reading)?.standard).toMatchObject({ unconfirmed: true });
});

it('was confirmed twice, or by hand behind the service', async () => {
  expect((await confirm(quality)).statusCode).toBe(409);
  for (const statement of [
    `update "colour_standard_confirmation" set "grounds" = 'none'`,
    `delete from "colour_standard_confirmation"`,
  ])
    await expect(db.pool.query(statement)).rejects.toMatchObject({ code: 'HU001' });
});
