import type { Quotation } from '@huelot/contracts';
import { beforeAll, expect, it } from 'vitest';
import { mainLine, ok, post } from '../support/main-line.ts';
import { readPdf } from '../support/pdf.ts';

const { db, shop, estimator, draft } = await mainLine();
let trial: { id: number; number: string };
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
  ['twice', () => [charge(trial.id), charge(trial.id, 'again')], 1, 'already'],
])('a trial was charged %s', async (...[, oneOffs, index, words]) => {
  const reply = await quote(...oneOffs());
  expect(reply.statusCode).toBe(422);
  expect(reply.json()).toMatchObject({
    issues: [{ path: `lines.0.options.oneOffs.${index}.trialRunId` }],
  });
  expect(reply.body).toContain(words);
});
