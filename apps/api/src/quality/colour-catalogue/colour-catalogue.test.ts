import type { CatalogueColour, ColourStandard } from '@huelot/contracts';
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, it } from 'vitest';
import { withoutTriggers } from '../../demo/backdate.ts';
import { sql } from '../../db/client.ts';
import { proveRevision } from '../../../../../tests/support/evidence.ts';
import { mainLine, ok, post } from '../../../../../tests/support/main-line.ts';
import { readPdf } from '../../../../../tests/support/pdf.ts';
import { deltaE2000 } from '@huelot/calc';

const { db, shop, estimator, operator, planner, releasedLots, sentQuotation, signAll } = await mainLine();
const conditions = { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 } as const;

const read = async (query = '', ask = estimator) =>
  ok<{ items: CatalogueColour[]; next: string | null }>(ask({ url: `/api/colour-catalogue${query}` }));
const own = async (query = '', ask = estimator) => {
  const { items } = await read(query, ask);
  return items.filter(({ recipe }) => recipe.recipeId === shop.recipeId);
};
const material = (name: string, baseMetal = 'titanium') =>
  db.prisma.material.create({
    data: {
      ...{ name, condition: '', baseMetal, densityKgPerM3: 4510, heatCapacityJPerKgK: 524 },
      ...{ source: 'test', evidence: 'M' },
    },
  });
const addReading = (lotId: number, lab: object, extra: object = {}) =>
  ok(
    post(operator, `/lots/${lotId}/colour-readings`, {
      readings: [
        {
          ...{ zone: '', place: '', spot: null, grade: 'measured', lab, spectrum: null, conditions },
          ...{
            instrumentId: shop.colourMeterId,
            instrument: '',
            expandedUncertainty: 0.4,
            outcome: null,
            confirmed: true,
            note: '',
          },
          ...extra,
        },
      ],
      ...{ fileName: '', second: null },
    }),
    201,
  );

describe('before any lot', () => {
  it('shows the mean of the coupons near the step, and says so', async () => {
    const [colour] = await own();
    expect(colour).toMatchObject({
      colour: { lab: { L: 40, a: 5, b: -30 }, from: 'coupons', count: 3 },
      grade: 'measured',
      class: 'interference',
      proof: { coupons: 3, trialLots: 0, firstArticles: 0 },
      ...{ spread: null, price: null, lastMade: null },
      alloy: { materialId: shop.materialId },
    });
  });

  it('mixed the colour of a photo into that of the coupons that were measured', async () => {
    const { seriesId } = await db.prisma.recipeEvidence.findFirstOrThrow({
      where: { revisionId: shop.recipeRevisionId },
    });
    const [trial] = await db.prisma.couponTrial.findMany({ where: { seriesId: seriesId ?? 0 } });
    if (trial === undefined) throw new Error('the series has coupons');
    await withoutTriggers(db, (execute) =>
      execute(sql`
        insert into "coupon_trial" ("seriesId", "position", "mark", "temperatureC", "voltageV", "timeS", "strength", "outcome", "grade",
          "labL", "labA", "labB", "madeOn", "madeBy")
        values (${trial.seriesId}, 9, 'photo', ${trial.temperatureC}, ${trial.voltageV}, ${trial.timeS}, ${trial.strength},
          'interference', 'photo', 90, 0, 0, now(), 'somebody')`),
    );
    expect((await own())[0]?.colour).toMatchObject({ lab: { L: 40, a: 5, b: -30 }, count: 3 });
  });

  it('named no price where too little was quoted, and one where enough was', async () => {
    for (let sent = 0; sent < 3; sent += 1) await sentQuotation();
    expect((await own())[0]?.price).toBeNull();
    await sentQuotation();
    const price = (await own())[0]?.price;
    expect(price).toMatchObject({ currency: 'EUR', lines: 4 });
    // 42 cm² a piece: for a square decimetre 1 / 0.42 of a piece.
    const line = await db.prisma.quotationBreak.findMany({ orderBy: { id: 'desc' }, take: 2 });
    const each = line.map(({ unitPrice }) => Number(unitPrice) / 0.42).sort((one, other) => one - other);
    expect(Number(price?.low)).toBeGreaterThanOrEqual((each[0] ?? 0) - 0.01);
    expect(Number(price?.high)).toBeLessThanOrEqual((each[1] ?? 0) + 0.01);
  });

  it('shows what was quoted to nobody who may not see quotations', async () => {
    expect((await own('', operator))[0]?.price).toBeNull();
  });
});

describe('a material', () => {
  it('is answered from evidence: proved, proved on a near one, or nothing', async () => {
    const near = await material('Titanium near');
    const far = await material('Niobium far', 'niobium');
    const [proved] = await own(`?materialId=${shop.materialId}`);
    expect(proved?.verdict).toMatchObject({ state: 'proved' });
    const [nearest] = await own(`?materialId=${near.id}`);
    expect(nearest?.verdict).toMatchObject({ state: 'nearest', evidence: { pieces: 3 } });
    expect(nearest?.alloy?.materialId).toBe(shop.materialId);
    // A recipe of another metal is no answer at all.
    expect(await own(`?materialId=${far.id}`)).toEqual([]);
    const unknown = await estimator({ url: '/api/colour-catalogue?materialId=999999' });
    expect(unknown.statusCode).toBe(422);
    expect(unknown.json<{ issues: { path: string }[] }>().issues[0]?.path).toBe('materialId');
  });

  it('was offered colours whose evidence was withdrawn: such a recipe proves nothing', async () => {
    const revision = await db.prisma.recipeRevision.create({
      data: {
        recipe: {
          create: {
            ...{ number: 'R-WITHDRAWN', name: 'Withdrawn', family: 'interference-colour' },
            baseMetals: ['titanium'],
          },
        },
        ...{ revision: 1, authorId: shop.authorId },
        steps: {
          create: [
            {
              ...{ position: 1, kind: 'colour', title: 'Colour', contents: 'mild-salt', durationS: 60 },
              ...{ settings: [{ quantity: 'voltageV', target: 30, low: 29, high: 31 }] },
              ...{ cautions: [], record: [] },
            },
          ],
        },
      },
    });
    const { id } = await proveRevision(db, { revisionId: revision.id, materialId: shop.materialId });
    const approver = await db.prisma.person.create({
      data: { name: 'second', displayName: 'second', roles: ['quality'] },
    });
    await db.prisma.recipeRevision.update({
      where: { id: revision.id },
      data: { status: 'approved', approvedById: approver.id, approvedAt: new Date() },
    });
    const colours = async () => (await read()).items.filter(({ recipe }) => recipe.number === 'R-WITHDRAWN');
    expect((await colours())[0]?.alloy).not.toBeNull();
    await db.prisma.recipeEvidence.update({
      where: { id },
      data: { withdrawnById: shop.authorId, withdrawnAt: new Date(), withdrawReason: 'mixed up' },
    });
    expect(await colours()).toMatchObject([{ alloy: null, colour: null, grade: null }]);
  });
});

describe('lots that were read', () => {
  let lotId: number;
  beforeAll(async () => {
    const [lot] = await releasedLots();
    lotId = lot?.id ?? 0;
    await signAll(lotId);
    await addReading(lotId, { L: 42, a: 6, b: -31 });
    await addReading(lotId, { L: 44, a: 6, b: -31 });
  });

  it('speak before coupons, with mean, spread and the last lot', async () => {
    const [colour] = await own();
    expect(colour?.colour).toMatchObject({
      lab: { L: 43, a: 6, b: -31 },
      ...{ from: 'lots', count: 2, conditions },
    });
    expect(colour?.spread).toEqual({ deltaEab: 1, readings: 2, lots: 1 });
    expect(colour?.lastMade?.lotId).toBe(lotId);
  });

  it('mixed what was read under another illuminant into the mean', async () => {
    await addReading(lotId, { L: 10, a: 0, b: 0 }, { conditions: { ...conditions, illuminant: 'A' } });
    await addReading(lotId, { L: 43, a: 6, b: -31 });
    expect((await own())[0]?.colour).toMatchObject({ lab: { L: 43 }, count: 3 });
  });

  it('counts no photo, and nothing that was corrected', async () => {
    const lower = {
      instrumentId: null,
      instrument: '',
      expandedUncertainty: null,
      conditions: null,
      grade: 'photo',
    };
    await addReading(lotId, { L: 90, a: 0, b: 0 }, lower);
    expect((await own())[0]?.colour).toMatchObject({ lab: { L: 43 }, count: 3 });
  });
});

describe('zones with a standard of their own', () => {
  it('were averaged into one colour that no piece ever had', async () => {
    const standard = async (code: string, lab: { L: number; a: number; b: number }) => {
      const { id } = await db.prisma.colourStandard.create({
        data: {
          code,
          revisions: {
            create: {
              ...{ revision: 1, status: 'approved', name: `Colour ${code}`, grade: 'measured', conditions },
              ...{ target: lab, tolerance: { from: 'target', deltaE: 9, kL: 1, kC: 1, kH: 1 } },
              ...{ takenOverFrom: 'the test', approvedAt: new Date() },
            },
          },
        },
      });
      return id;
    };
    const [back, edge] = [
      { L: 43, a: 6, b: -31 },
      { L: 70, a: 5, b: 40 },
    ] as const;
    const [backId, edgeId] = [await standard('BACK', back), await standard('EDGE', edge)];
    const agree = (own: number | null, zone: number | null) =>
      withoutTriggers(db, async (execute) => {
        await execute(sql`update "part" set "colourStandardId" = ${own} where "id" = ${shop.partId}`);
        await execute(sql`delete from "part_zone" where "partId" = ${shop.partId}`);
        if (zone !== null)
          await execute(sql`
            insert into "part_zone" ("partId", "position", "name", "colourStandardId") values (${shop.partId}, 0, 'Edge', ${zone})`);
      });
    await agree(backId, edgeId);
    const [lot] = await releasedLots();
    await signAll(lot?.id ?? 0);
    await addReading(lot?.id ?? 0, { L: 44, a: 6, b: -31 });
    await addReading(lot?.id ?? 0, { L: 70, a: 5, b: 40 }, { zone: 'edge' });
    await addReading(lot?.id ?? 0, { L: 72, a: 5, b: 40 }, { zone: 'Edge' });
    const rows = await own();
    expect(rows.map(({ standard, colour }) => [standard?.code, colour?.lab.L, colour?.count])).toEqual([
      // What was read before anything was agreed.
      [undefined, 43, 3],
      ['BACK', 44, 1],
      ['EDGE', 71, 2],
    ]);
    expect(new Set(rows.map(({ id }) => id)).size).toBe(3);
    await agree(null, null);
  });
});

describe('near a colour', () => {
  it('comes the nearest first, and nothing beyond the distance', async () => {
    const wanted = { L: 43, a: 7, b: -31 };
    const { items } = await read('?L=43&a=7&b=-31&within=5');
    expect(items[0]?.recipe.recipeId).toBe(shop.recipeId);
    expect(items[0]?.distance).toBeCloseTo(deltaE2000(wanted, { L: 43, a: 6, b: -31 }), 6);
    expect((await read('?L=90&a=0&b=0&within=5')).items).toEqual([]);
  });

  it.each([
    ['?L=43&a=7', 'b'],
    ['?within=5', 'within'],
    ['?L=143&a=0&b=0', 'L'],
    ['?grade=brilliant', 'grade'],
  ])('%s is refused at its field', async (query, path) => {
    const reply = await estimator({ url: `/api/colour-catalogue${query}` });
    expect(reply.statusCode).toBe(422);
    expect(reply.json<{ issues: { path: string }[] }>().issues.map((issue) => issue.path)).toContain(path);
  });
});

it('pages by cursor without losing or repeating a colour, and leaves as CSV', async () => {
  const whole = (await read('?limit=200')).items.map(({ id }) => id);
  expect(whole.length).toBeGreaterThan(1);
  const seen: string[] = [];
  for (let after: string | null = ''; after !== null;) {
    const page: Awaited<ReturnType<typeof read>> = await read(`?limit=1&after=${after}`);
    seen.push(...page.items.map(({ id }) => id));
    after = page.next;
  }
  expect(seen).toEqual(whole);
  const csv = await planner({ url: '/api/colour-catalogue.csv' });
  expect(parse(csv.body, { columns: true, bom: true })).toHaveLength(whole.length);
});

describe('the swatch sheet', () => {
  const sheet = async () => {
    const reply = await estimator({ url: '/api/colour-catalogue/pdf' });
    expect(reply.headers['content-type']).toBe('application/pdf');
    return reply.rawPayload;
  };

  it('shows figures, name and grade by metal, says that paper shows no colour, and prints no price', async () => {
    const text = (await readPdf(await sheet())).map((page) => page.text).join(' ');
    expect(text).toContain('Titanium');
    expect(text).toContain('Blue');
    expect(text).toMatch(/L\* 43\.0,? a\* 6\.0,? b\* −31\.0/);
    expect(text).toContain('measured with an instrument');
    expect(text).toContain('Screens and paper do not show colour');
    expect(text).not.toMatch(/€|EUR|dm²/);
  });

  it('marks a colour that no printer shows', async () => {
    const [lot] = await releasedLots();
    await signAll(lot?.id ?? 0);
    for (let n = 0; n < 9; n += 1) await addReading(lot?.id ?? 0, { L: 45, a: -10, b: -90 });
    const text = (await readPdf(await sheet())).map((page) => page.text).join(' ');
    expect(text).toContain('outside what a screen or printer can show');
  });

  it('is on A4, and on Letter where the shop prints in US units', async () => {
    const size = async () =>
      /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec((await sheet()).toString('latin1'))?.slice(1);
    expect((await size())?.map((point) => Math.round(Number(point)))).toEqual([595, 842]);
    await db.prisma.shop.update({ where: { id: 1 }, data: { units: 'us' } });
    expect((await size())?.map((point) => Math.round(Number(point)))).toEqual([612, 792]);
  });
});

it('a standard of a part does not become what we make', async () => {
  await ok<ColourStandard>(
    post(estimator, '/colour-standards', {
      ...{ code: 'NOT-MADE', customerId: null, name: 'Red', target: null, light: null, dark: null },
      ...{ conditions: null, instrument: '', tolerance: null, sample: null, grade: 'word', agreedBy: '' },
      ...{ agreedOn: null, expiresOn: null, photoId: null, notes: '', changeNote: '' },
    }),
    201,
  );
  expect((await read('?search=Red')).items).toEqual([]);
});
