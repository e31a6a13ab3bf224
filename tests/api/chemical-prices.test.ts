import type { Addition, BathPage, Chemical, ChemicalLot, getStockRates, RateCard } from '@huelot/contracts';
import { beforeAll, expect, test } from 'vitest';
import type { z } from 'zod';
import type { Ask } from '../support/app.ts';
import * as lab from '../support/lab.ts';
import { mainLine, ok } from '../support/main-line.ts';

const { db, as, releasedLots, opened } = await mainLine();
let owner: Ask;
let lena: Ask;
let omar: Ask & { personId: number };
let estimator: Ask;
beforeAll(async () => {
  lena = await as('lab');
  omar = await as('operator');
  estimator = await as('estimator');
  owner = await as('owner');
  await lab.givePin(db, [omar.personId], '4711');
});

const receipt = (supplierLot: string, extra: object) => ({
  supplierLot,
  receivedAt: new Date().toISOString(),
  quantityKg: 100,
  assayMassFraction: 0.9,
  densityKgPerM3: null,
  expiresOn: null,
  quarantined: false,
  notes: '',
  ...extra,
});

test('what a lot cost is the cost of the addition that takes it, and is told to who may see rates only', async () => {
  const of = await lab.equipLab(lena);
  of.lot = await lab.post<ChemicalLot>(
    lena,
    `/api/chemicals/${of.chemical.id}/lots`,
    receipt('P-1', { pricePerKg: '3.00' }),
  );
  expect(of.lot.pricePerKg).toBeNull();
  const planned = await lab.plan(lena, of);
  const checker = { personId: omar.personId, pin: '4711' };
  const done = await lab.post<Addition>(
    lena,
    `/api/additions/${planned.id}/complete`,
    lab.asPlanned(planned, { checker }),
  );
  expect(done.done).toMatchObject({ cost: null, lines: [{ cost: null }] });
  const seen = await ok<Addition>(estimator({ url: `/api/additions/${done.id}` }));
  expect(Number(seen.done?.cost)).toBeCloseTo(3 * (done.done?.lines[0]?.kg ?? 0), 2);

  const page = (ask: Ask) => ok<BathPage>(ask({ url: `/api/baths/${of.bath.id}` }));
  expect((await page(omar)).life.chemicals).toMatchObject([{ cost: null }]);
  expect((await page(omar)).additions).toMatchObject([{ cost: null }]);
  expect((await page(estimator)).life.chemicals).toMatchObject([{ cost: seen.done?.cost }]);
  expect((await page(estimator)).additions).toMatchObject([{ cost: seen.done?.cost }]);
  const cost = seen.done?.cost ?? 'none';
  for (const url of ['/api/additions', '/api/additions.csv']) {
    expect((await lena({ url })).body, url).not.toContain(cost);
    expect((await estimator({ url })).body, url).toContain(cost);
  }
  const { chemical, lots } = await ok<{ chemical: Chemical; lots: ChemicalLot[] }>(
    lena({ url: `/api/chemicals/${of.chemical.id}` }),
  );
  expect([chemical.pricePerKg, ...lots.map(({ pricePerKg }) => pricePerKg)]).toEqual([null, null, null]);
  for (const url of [`/api/chemicals/${of.chemical.id}`, '/api/chemicals.csv'])
    expect((await estimator({ url })).body, url).toContain('2.4');
  expect((await lena({ url: '/api/chemicals.csv' })).body).not.toContain('2.4');
});

test('the lab changes a chemical without losing a price that it cannot see; the history says no figure', async () => {
  const of = await lab.equipLab(lena);
  const url = `/api/chemicals/${of.chemical.id}`;
  const stored = async () => (await ok<{ chemical: Chemical }>(estimator({ url }))).chemical;
  const change = async (extra: object) => {
    const { chemical } = await ok<{ chemical: Chemical }>(lena({ url }));
    const { code, name, formula, solute, form, assayMassFraction, impurityMassFraction } = chemical;
    const { densityKgPerM3, hazards, supplier, reorderPointKg, sdsFileId, notes, pricePerKg } = chemical;
    const payload = {
      ...{ code, name, formula, solute, form, assayMassFraction, impurityMassFraction, densityKgPerM3 },
      ...{ hazards, supplier, reorderPointKg, sdsFileId, notes, pricePerKg, archived: false, ...extra },
    };
    const headers = { 'if-match': `"${chemical.version}"` };
    return ok<Chemical>(lena({ method: 'PUT', url, headers, payload }));
  };
  await change({ notes: 'keep dry' });
  expect(await stored()).toMatchObject({ notes: 'keep dry', pricePerKg: '2.40' });
  expect((await change({ pricePerKg: '2.75' })).pricePerKg).toBeNull();
  expect((await stored()).pricePerKg).toBe('2.75');
  const { items } = (await lena({ url: `/api/history/chemical/${of.chemical.id}` })).json<{
    items: { at: string }[];
  }>();
  // A moment may well be 2.75 s after a minute.
  const history = JSON.stringify(items.map(({ at: _moment, ...said }) => said));
  expect(history).toContain('changed, with its price');
  expect(history).not.toContain('2.75');
});

test('the stock says what chemicals of a line of work cost and how much goes, and changes no card', async () => {
  const asked = { url: '/api/rate-cards/from-stock?days=30' };
  expect((await lena(asked)).statusCode).toBe(403);
  const card = await ok<{ card: RateCard }>(owner({ url: '/api/rate-cards/current' }));
  const before = await ok<z.output<typeof getStockRates.reply>>(owner(asked));
  const caustic = before.families.find(({ family }) => family === 'caustic-colour');
  expect(caustic).toMatchObject({ areaM2: 0, chemical: null, why: 'nothing was treated in this period' });
  const flake = caustic?.uses.find(({ receipts }) =>
    receipts.some(({ supplierLot }) => supplierLot === 'P-1'),
  );
  // 200 kg at the price of the chemical and 100 kg at 3.00.
  expect(flake?.pricePerKg).toBeCloseTo((200 * 2.4 + 100 * 3) / 300, 9);
  expect(flake?.receipts.map(({ pricePerKg, atListPrice }) => [pricePerKg, atListPrice])).toEqual([
    ['3.00', false],
    ['2.40', true],
  ]);

  const of = await db.prisma.addition.findFirstOrThrow({
    where: { state: 'done' },
    include: { lines: true },
  });
  await db.pool.query(
    `insert into "analysis" ("number", "bathId", "methodId", "sampledAt", "analysedAt", "analystId", "why", "readings", "questions", "flags", "calcVersion")
     select 'A-T', $1, min("id"), now(), now(), $2, 'schedule', '{}', '{}', '{}', 'test' from "analysis_method"`,
    [of.bathId, omar.personId],
  );
  await db.pool.query(
    `insert into "analysis_result" ("analysisId", "bathId", "sampledAt", "component", "name", "value", "unit", "gramsPerLitre", "state")
     select "id", "bathId", "sampledAt", 'KOH', 'KOH', 0.5, 'massFraction', 750, 'in-range' from "analysis" where "number" = 'A-T'`,
  );
  const [lot] = await releasedLots();
  const traveler = await opened(lot?.id ?? 0);
  const causticNow = async () =>
    (await ok<z.output<typeof getStockRates.reply>>(owner(asked))).families.find(
      ({ family }) => family === 'caustic-colour',
    );
  const sign = { bathId: of.bathId, personId: omar.personId };
  await signedIn({ ...sign, stepId: traveler.steps[0]?.id ?? 0, pieces: 1 });
  expect(await causticNow()).toMatchObject({ why: 'too little was treated in this period to tell' });
  await signedIn({ ...sign, stepId: traveler.steps[1]?.id ?? 0, pieces: 24_000 });
  const found = await causticNow();
  const kg = of.lines[0]?.kg ?? 0;
  const { recoveryShare } = card.card.rates.families['caustic-colour'].chemical;
  const areaM2 = found?.areaM2 ?? 0;
  expect(areaM2).toBeGreaterThan(0);
  expect(found?.chemical?.concentrationGPerL).toBe(750);
  expect(found?.chemical?.dragOutLPerM2).toBe(0.2);
  expect(found?.chemical?.pricePerKg).toBeCloseTo(2.6 / 0.9, 2);
  const total = (1000 * 0.9 * kg) / areaM2;
  const lost = 0.2 * 750 * (1 - recoveryShare);
  expect((found?.chemical?.consumptionGPerM2 ?? 0) / (total - lost)).toBeCloseTo(1, 2);
  expect(await ok(owner({ url: '/api/rate-cards/current' }))).toEqual(card);
});

/** Signs a step of the main line in a bath of another line of work. */
const signedIn = ({
  stepId,
  bathId,
  personId,
  pieces,
}: {
  stepId: number;
  bathId: number;
  personId: number;
  pieces: number;
}) =>
  db.pool.query(
    `insert into "step_sign_off" ("stepId", "lotId", "partId", "materialId", "recipeRevisionId", "stepKind", "personId", "doneAt",
       "bathId", "countIn", "countOut", "rejectCount", "outside", "reason", "note")
     select s."id", l."id", l."partId", p."materialId", t."recipeRevisionId", s."kind", $3, now(), $2, $4::int, $4::int, 0, false, '', ''
       from "traveler_step" s join "traveler" t on t."id" = s."travelerId" join "lot" l on l."id" = t."lotId"
       join "part" p on p."id" = l."partId" where s."id" = $1`,
    [stepId, bathId, personId, pieces],
  );
