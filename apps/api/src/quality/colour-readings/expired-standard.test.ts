import type { ColourReading, ColourStandard, Lot, LotColour } from '@huelot/contracts';
import { beforeAll, expect, it } from 'vitest';
import { mainLine, ok, post } from '../../../../../tests/support/main-line.ts';

const { db, shop, estimator, operator, planner, quality, releasedLots, signAll } = await mainLine();
const target = { L: 40, a: 8, b: -30 };
const conditions = { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 } as const;
const dayIn = (days: number) => new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);

const agreedOn = {
  ...{ code: 'DUSK-1', customerId: shop.customerId, name: 'Dusk blue', grade: 'measured', target },
  ...{ light: null, dark: null, conditions, instrument: 'SP-1', sample: null, photoId: null },
  ...{ tolerance: { from: 'target', deltaE: 3, kL: 1, kC: 1, kH: 1 }, agreedBy: 'M. Oakley' },
  ...{ agreedOn: dayIn(-300), notes: '', changeNote: '' },
};
const approve = ({ revisionId, version }: ColourStandard) =>
  ok<ColourStandard>(
    post(quality, `/colour-standard-revisions/${revisionId}/approve`, {}, { 'if-match': `"${version}"` }),
  );
let standard: ColourStandard;
let lots: number[];
beforeAll(async () => {
  standard = await approve(
    await ok(post(estimator, '/colour-standards', { ...agreedOn, expiresOn: dayIn(10) }), 201),
  );
  const { standardId: colourStandardId } = standard;
  await db.prisma.part.update({ where: { id: shop.partId }, data: { colourStandardId } });
  lots = (await releasedLots()).map(({ id }) => id);
  for (const id of lots) await signAll(id);
});

/** Days pass: what the lots were released with ran out yesterday, as they say themselves. */
async function runOut() {
  for (const statement of [
    `alter table "lot" disable trigger user`,
    `update "lot" set "snapshot" = jsonb_set("snapshot", '{part,agreedColour,expiresOn}', to_jsonb('${dayIn(-1)}'::text))`,
    `alter table "lot" enable trigger user`,
    `alter table "colour_standard_revision" disable trigger user`,
    `update "colour_standard_revision" set "expiresOn" = '${dayIn(-1)}' where "id" = ${standard.revisionId}`,
    `alter table "colour_standard_revision" enable trigger user`,
  ])
    await db.pool.query(statement);
}
const read = async (lotId: number, lab = target) =>
  ok<LotColour>(
    post(operator, `/lots/${lotId}/colour-readings`, {
      ...{ fileName: '', second: null },
      readings: [
        {
          ...{ zone: '', place: 'front', spot: null, grade: 'measured', lab, spectrum: null, conditions },
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
const newest = ({ readings }: LotColour) => readings[0] as ColourReading;
const lotOf = (id: number) => ok<Lot>(operator({ url: `/api/lots/${id}` }));
const accept = (id: number) =>
  post(quality, `/lots/${id}/final-check`, {
    ...{ acceptedCount: 24, rejectedCount: 0, reworkCount: 0, reason: '', notes: '' },
  });
const [first, second] = [() => lots[0] ?? 0, () => lots[1] ?? 0];

it('what was read on a day that the standard counted stays a pass', async () => {
  expect(newest(await read(second()))).toMatchObject({ verdict: 'pass', standardExpired: false });
  await runOut();
  const { readings, missing } = await ok<LotColour>(operator({ url: `/api/lots/${second()}/colour` }));
  expect(readings[0]).toMatchObject({ verdict: 'pass', standardExpired: false });
  expect(missing).toBe('');
  await ok(accept(second()), 201);
});

it('a standard that had run out judged on in silence: it is compared, and the lot is held', async () => {
  const colour = await read(first());
  expect(colour.agreed).toMatchObject({ expired: true, renewed: null });
  expect(newest(colour)).toMatchObject({
    ...{ verdict: 'hold', standardExpired: true },
    judged: { deltaE: 0, limit: 3 },
  });
  const lot = await lotOf(first());
  expect(lot.held).toBe(true);
  expect(lot.holds[0]?.reason).toContain(`DUSK-1 revision 1 counted until ${dayIn(-1)}, before it was read.`);
  expect((await accept(first())).json()).toMatchObject({ code: 'on-hold' });
  await expect(
    db.pool.query(
      `insert into "colour_reading" ("lotId", "recipeRevisionId", "grade", "verdict", "readById", "standardExpired")
       values ($1, $2, 'compared', 'pass', $3, true)`,
      [first(), shop.recipeRevisionId, operator.personId],
    ),
  ).rejects.toMatchObject({ code: '23514' });
});

it('somebody without the right, or without a reason, answered for it', async () => {
  const release = (ask: typeof quality, reason: string) =>
    post(ask, `/lots/${first()}/hold/release`, { reason });
  expect((await release(operator, 'looks fine')).statusCode).toBe(403);
  expect((await release(quality, ' ')).statusCode).toBe(422);
  expect((await lotOf(first())).held).toBe(true);
  await ok(release(quality, 'M. Oakley agreed by letter that DUSK-1 stands'));
  await ok(accept(first()), 201);
});

it('a corrected figure of a late reading passed, or one of an early reading was held', async () => {
  const correct = async (id: number) =>
    newest(
      await ok<LotColour>(
        post(operator, `/colour-readings/${id}/corrections`, {
          ...{ withdrawn: false, lab: { ...target, L: 40.5 }, confirmed: false, reason: 'misread' },
        }),
        201,
      ),
    );
  const rows = await db.prisma.colourReading.findMany({ orderBy: { id: 'asc' } });
  const [early, late] = [
    rows.find(({ lotId }) => lotId === second()),
    rows.find(({ lotId }) => lotId === first()),
  ];
  expect(await correct(early?.id ?? 0)).toMatchObject({ verdict: 'pass', standardExpired: false });
  expect(await correct(late?.id ?? 0)).toMatchObject({ verdict: 'hold', standardExpired: true });
});

it('a renewed standard did not count for a lot that was released with the one that ran out', async () => {
  const [lot] = await releasedLots();
  const lotId = lot?.id ?? 0;
  await signAll(lotId);
  await runOut();
  const draft = await ok<ColourStandard>(
    post(estimator, `/colour-standards/${standard.standardId}/revisions`, { changeNote: 'renewed' }),
    201,
  );
  await approve(
    await ok(
      estimator({
        ...{ method: 'PUT' as const, url: `/api/colour-standard-revisions/${draft.revisionId}` },
        headers: { 'if-match': `"${draft.version}"` },
        payload: { ...agreedOn, changeNote: 'renewed', agreedOn: dayIn(0), expiresOn: dayIn(300) },
      }),
    ),
  );
  const colour = await read(lotId);
  expect(colour.agreed).toMatchObject({
    ...{ revision: 2, expired: false, newerRevision: null },
    renewed: { revision: 1, expiredOn: dayIn(-1) },
  });
  expect(newest(colour)).toMatchObject({ verdict: 'pass', standard: { revision: 2 } });
  expect((await lotOf(lotId)).held).toBe(false);
  expect((await planner({ url: `/api/lots/${lotId}/trace` })).statusCode).toBe(200);
});
