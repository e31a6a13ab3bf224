import type { Quotation } from '@huelot/contracts';
import { beforeAll, expect, it } from 'vitest';
import { mainLine, ok, post } from '../support/main-line.ts';
import { readPdf } from '../support/pdf.ts';

const { db, shop, estimator, draft } = await mainLine();
let trial: { id: number; number: string };
let other: { id: number };
let withdrawn: { id: number };
beforeAll(async () => {
  const run = (number: string, extra: object = {}) =>
    db.prisma.trialRun.create({
      data: {
        ...{ number, seriesCode: 'TI-5', materialId: shop.materialId, contents: 'mild-salt', pieces: 3 },
        ...{ component: 'Na3PO4', unit: 'gramsPerLitre', referenceTemperatureC: 20, kind: 'strip' },
        ...{ tankId: shop.tanks[2]?.tankId ?? 0, temperatureC: 21, voltageV: 28, intervalS: 60, stepMm: 10 },
        ...{ plannedById: shop.authorId, ...extra },
      },
    });
  trial = await run('TR-90001');
  other = await run('TR-90003');
  await run('TR-90004');
  await run('TR-90005');
  withdrawn = await run('TR-90002', {
    ...{ state: 'withdrawn', withdrawnById: shop.authorId, withdrawnAt: new Date() },
    withdrawReason: 'not asked for any more',
  });
});

const charge = (trialRunId: number | null, label = 'Strip for the first article') => ({
  ...{ label, amount: 85, trialRunId },
});
function charged(...oneOffs: object[]) {
  const body = draft([24]);
  return {
    ...{ customerId: shop.customerId, ...body },
    lines: body.lines.map((line) => ({ ...line, options: { ...line.options, oneOffs } })),
  };
}
const quote = (...oneOffs: object[]) => post(estimator, '/quotations', charged(...oneOffs));

it('a trial that a customer asked for was on no offer: it is charged on a line, and the line leads to it', async () => {
  const plain = await ok<Quotation>(quote(), 201);
  const quotation = await ok<Quotation>(quote({ label: 'Tooling', amount: 40 }, charge(trial.id)), 201);
  const [line] = quotation.shown.lines;
  expect(line?.oneOffs).toEqual([
    { label: 'Tooling', amount: '40', trial: null },
    {
      ...{ label: 'Strip for the first article', amount: '85' },
      trial: { id: trial.id, number: 'TR-90001' },
    },
  ]);
  const price = ({ shown }: Quotation) => Number(shown.lines[0]?.breaks[0]?.totalPrice);
  expect(price(quotation) - price(plain)).toBeCloseTo(125, 2);
  await ok(post(estimator, `/quotations/${quotation.id}/send`, {}, { 'if-match': `"${quotation.version}"` }));
  const pdf = await estimator({ url: `/api/quotations/${quotation.id}/revisions/1/pdf` });
  const words = (await readPdf(pdf.rawPayload))
    .map(({ text }) => text)
    .join(' ')
    .replaceAll(/\s+/g, ' ');
  expect(words).toContain('Strip for the first article (trial TR-90001)');
});

it.each([
  ['that is none', () => [charge(999_999)], 0, 'there is no trial'],
  ['that was withdrawn', () => [charge(withdrawn.id)], 0, 'was withdrawn'],
  ['twice', () => [charge(other.id), charge(other.id, 'again')], 1, 'already'],
])('a trial was charged %s', async (...[, oneOffs, index, words]) => {
  const reply = await quote(...oneOffs());
  expect(reply.statusCode).toBe(422);
  expect(reply.json()).toMatchObject({
    issues: [{ path: `lines.0.options.oneOffs.${index}.trialRunId` }],
  });
  expect(reply.body).toContain(words);
});

it('the same trial was charged on two quotations', async () => {
  const first = await ok<Quotation>(quote(charge(other.id)), 201);
  const refused = await quote({ label: 'Tooling', amount: 40 }, charge(other.id));
  expect(refused.statusCode).toBe(422);
  expect(refused.json()).toMatchObject({
    issues: [
      {
        path: 'lines.0.options.oneOffs.1.trialRunId',
        message: `TR-90003 is charged on ${first.number} already`,
      },
    ],
  });
  const copy = await ok<Quotation>(post(estimator, `/quotations/${first.id}/copy`, {}), 201);
  expect(copy.shown.lines[0]?.oneOffs).toEqual([]);
  // Its own next revision goes on charging it.
  const version = { 'if-match': `"${first.version}"` };
  await ok(post(estimator, `/quotations/${first.id}/send`, {}, version));
  const revised = await ok<Quotation>(post(estimator, `/quotations/${first.id}/revise`, {}), 201);
  expect(revised.shown.lines[0]?.oneOffs).toMatchObject([{ trial: { id: other.id } }]);
});

it('a trial was charged by two people at once', async () => {
  const contested = await db.prisma.trialRun.findFirstOrThrow({ where: { number: 'TR-90004' } });
  const replies = await Promise.all([quote(charge(contested.id)), quote(charge(contested.id))]);
  expect(replies.map(({ statusCode }) => statusCode).toSorted()).toEqual([201, 422]);
});

it('a trial on a quotation that ran out could never be charged again', async () => {
  const { id } = await db.prisma.trialRun.findFirstOrThrow({ where: { number: 'TR-90005' } });
  const first = await ok<Quotation>(quote(charge(id)), 201);
  await db.prisma.quotationRevision.update({
    where: { quotationId_revision: { quotationId: first.id, revision: 1 } },
    data: { status: 'sent', sentAt: new Date(), validUntil: new Date(Date.now() - 14 * 86_400_000) },
  });
  await ok<Quotation>(quote(charge(id)), 201);
  const again = await post(estimator, `/quotations/${first.id}/revise`, {});
  expect(again.json()).toMatchObject({
    issues: [{ message: expect.stringContaining('is charged on') as string }],
  });
});
