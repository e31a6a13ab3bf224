import type pg from 'pg';
import { byHand } from './by-hand.ts';

export interface Question {
  name: string;
  /** Under `/api`. */
  path: string;
  /** The same answer by a statement that somebody wrote for this one question. */
  byHand?: { text: string; values: unknown[] };
  /** Why the answer itself grows with the years, where it does. */
  grows?: string;
  /** Who asks, where it is not the owner. */
  role?: 'planner' | 'operator' | 'lab' | 'quality' | 'estimator';
}

/** What a shop of this size is asked with: records out of its middle, and settings that are common, rare or never met. */
async function pick(client: pg.ClientBase) {
  const one = async <Row extends pg.QueryResultRow>(statement: string) => {
    const [row] = (await client.query<Row>(statement)).rows;
    if (row === undefined) throw new Error(`nothing to ask about: ${statement}`);
    return row;
  };
  const { id: lotId, number: lot } = await one<{ id: number; number: string }>(
    `select "id", "number" from "lot" where "status" = 'shipped' order by "id" offset (select count(*) / 2 from "lot") limit 1`,
  );
  const middle = await one<{
    orderId: number;
    partId: number;
    customerId: number;
    recipeId: number;
    travelerId: number;
    quotationId: number;
    name: string;
  }>(`
    select ol."orderId", ol."partId", o."customerId", r."recipeId", c."name",
           (select t."id" from "traveler" t where t."lotId" = l."id" limit 1) as "travelerId",
           (select max("quotationId") from "quotation_revision" q where q."id" = o."quotationRevisionId") as "quotationId"
      from "lot" l join "order_line" ol on ol."id" = l."orderLineId" join "customer_order" o on o."id" = ol."orderId"
      join "customer" c on c."id" = o."customerId" join "recipe_revision" r on r."id" = ol."recipeRevisionId"
     where l."id" = ${lotId}`);
  const bath = await one<{ id: number; tankId: number }>(
    `select "id", "tankId" from "bath" b where "dumpedAt" is null and exists (select from "analysis_result" r where r."bathId" = b."id") order by "id" limit 1`,
  );
  const old = await one<{ id: number }>(
    `select "id" from "bath" where "dumpedAt" is not null and "tankId" = ${bath.tankId} order by "id" offset 3 limit 1`,
  );
  const component = await one<{ component: string }>(
    `select "component" from "analysis_result" where "bathId" = ${bath.id} order by "id" limit 1`,
  );
  const { id: analysisId } = await one<{ id: number }>(
    `select "id" from "analysis" order by "id" offset 30 limit 1`,
  );
  // Beyond it lie forty readings: rare, however many there are.
  const { value: dense } = await one<{ value: number }>(
    `select trunc("value"::numeric, 3)::float8 as "value" from "step_reading" where "quantity" = 'currentDensityAPerM2' order by "step_reading"."value" desc offset 40 limit 1`,
  );
  const days = await one<{ early: string; late: string }>(`
    select to_char(now() - interval '200 days', 'YYYY-MM-DD') as early, to_char(now() - interval '170 days', 'YYYY-MM-DD') as late`);
  const supply = await one<{ id: number }>(
    `select "supplyId" as id from "step_sign_off" where "supplyId" is not null limit 1`,
  );
  return { lotId, lot, ...middle, bath, old, ...component, analysisId, dense, ...days, supplyId: supply.id };
}

/** Every question that is asked at each size, with what was picked for it. */
export async function askedOf(client: pg.ClientBase): Promise<Question[]> {
  const it = await pick(client);
  const word = encodeURIComponent(it.name.split(' ')[0] ?? '');
  const trace = (name: string, query: string, hand?: Question['byHand']): Question => ({
    name: `trace: ${name}`,
    path: `/trace${query === '' ? '' : `?${query}`}`,
    ...(hand === undefined ? {} : { byHand: hand }),
  });
  const q = (name: string, path: string, more: Partial<Question> = {}): Question => ({ name, path, ...more });
  return [
    trace('all', '', byHand.traceAll()),
    trace(
      'a rare current density',
      `settings=currentDensityAPerM2:${it.dense}:`,
      byHand.traceRare('currentDensityAPerM2', it.dense),
    ),
    trace('a voltage that nobody set', 'settings=voltageV:200:300', byHand.traceRare('voltageV', 200, 300)),
    trace('two settings, one never met', 'settings=voltageV:27:29,temperatureC:200:'),
    trace('a common voltage', 'settings=voltageV:27:29'),
    trace('a common voltage of colour steps', 'stepKind=colour&settings=voltageV:27:29'),
    trace('two common settings', 'settings=voltageV:27:29,temperatureC:20:60'),
    trace('a recipe', `recipeId=${it.recipeId}`),
    trace('a recipe and a voltage', `recipeId=${it.recipeId}&settings=voltageV:27:29`),
    trace('a customer', `customerId=${it.customerId}`),
    trace('a part', `partId=${it.partId}`),
    trace('a bath', `bathId=${it.old.id}`),
    trace('a supply', `supplyId=${it.supplyId}`),
    trace('a supply that is not there', 'supplyId=999'),
    trace('a kind of step that was never signed', 'stepKind=mask'),
    trace('a kind of step', 'stepKind=dye'),
    trace('outside limits', 'outside=yes'),
    trace('a month', `from=${it.early}&to=${it.late}`),
    trace('a voltage in a month', `settings=voltageV:27:29&from=${it.early}&to=${it.late}`),
    trace(
      'a tank, a voltage, a month',
      `tankId=${it.bath.tankId}&settings=voltageV:27:29&from=${it.early}&to=${it.late}`,
    ),
    q('trace: what to choose from', '/trace/choices', { grows: 'a recipe more is a choice more' }),
    q('trace of a lot', `/lots/${it.lotId}/trace`),
    q('look back: a bath that was dumped', `/look-back?about=bath-${it.old.id}`),
    q('look back: an analysis', `/look-back?about=analysis-${it.analysisId}`),
    q(
      'look back: a supply in a month',
      `/look-back?about=supply-${it.supplyId}&from=${it.early}&to=${it.late}`,
    ),
    q('what there is to assess', '/assessment-offers'),
    q('find a number', `/search?q=${it.lot}`, { byHand: byHand.findNumber(it.lot) }),
    q('find digits', '/search?q=51'),
    q('find a name', `/search?q=${word}`),
    q('find what is not there', '/search?q=zzzznothing'),
    q('audit: newest', '/audit', { byHand: byHand.audit() }),
    q('audit: a number', `/audit?search=${it.lot}`, { byHand: byHand.auditSearch(it.lot) }),
    q('audit: what is not there', '/audit?search=zzzznothing', { byHand: byHand.auditSearch('zzzznothing') }),
    q('audit: a common word', '/audit?search=signed'),
    q('audit: lots', '/audit?kind=lot'),
    q('audit: racks', '/audit?kind=rack'),
    q('audit: a month', `/audit?from=${it.early}&to=${it.late}`),
    q('history of a lot', `/history/lot/${it.lotId}`),
    q('lots: newest', '/lots', { byHand: byHand.lots(`order by l."id" desc`) }),
    q('lots: by due day', '/lots?sort=due', { byHand: byHand.lots(`order by l."dueDate", l."id"`) }),
    q('lots: last due first', '/lots?sort=-due'),
    q('lots: held', '/lots?held=yes', { byHand: byHand.lots(`where l."held" order by l."id" desc`) }),
    q('lots: running', '/lots?status=running', {
      byHand: byHand.lots(`where l."status" = 'running' order by l."id" desc`),
    }),
    q('lots: cancelled, none', '/lots?status=cancelled'),
    q('lots: a number', `/lots?search=${it.lot}`),
    q('lots: a customer', `/lots?search=${word}`),
    q('lots: what is not there', '/lots?search=zzzznothing'),
    q('lots of a part', `/lots?partId=${it.partId}`),
    q('lots of an order', `/lots?orderId=${it.orderId}&limit=200`),
    q('a lot', `/lots/${it.lotId}`, { byHand: byHand.lot(it.lotId) }),
    q('a traveler', `/travelers/${it.travelerId}`),
    q('orders: newest', '/orders'),
    q('orders: by due day', '/orders?sort=due', { byHand: byHand.ordersDue() }),
    q('orders: open', '/orders?status=open'),
    q('orders: a customer', `/orders?search=${word}`),
    q('orders: what is not there', '/orders?search=zzzznothing'),
    q('an order', `/orders/${it.orderId}`),
    q('load plan', `/order-lines/${it.orderId}/load-plan`),
    q('quotations: newest', '/quotations'),
    q('quotations: drafts', '/quotations?status=draft', { byHand: byHand.quotationsDraft() }),
    q('quotations: superseded, none', '/quotations?status=superseded'),
    q('quotations: lapsed', '/quotations?status=lapsed'),
    q('quotations: a customer', `/quotations?search=${word}`),
    q('quotations: what is not there', '/quotations?search=zzzznothing'),
    q('a quotation', `/quotations/${it.quotationId}`),
    q('what a quotation is made of', `/customers/${it.customerId}/quotation-sheet`, {
      grows: 'it offers every part of the customer and every recipe',
    }),
    q('customers', '/customers'),
    q('customers: a name', `/customers?search=${word}`),
    q('a customer', `/customers/${it.customerId}`),
    q('parts', '/parts'),
    q('parts: a number', '/parts?search=FB-204'),
    q('parts: by customer', '/parts?sort=customer'),
    q('a part', `/parts/${it.partId}`),
    q('uses of a part', `/parts/${it.partId}/uses`),
    q('recipes', '/recipes'),
    q('a recipe', `/recipes/${it.recipeId}`),
    q('uses of a recipe', `/recipes/${it.recipeId}/uses`),
    q('analyses: newest', '/analyses'),
    q('analyses: past a stop limit', '/analyses?state=stop', { byHand: byHand.analysesOf('stop') }),
    q('analyses: of a component, none', '/analyses?component=zzz'),
    q('analyses: what is not there', '/analyses?search=zzzznothing'),
    q('an analysis', `/analyses/${it.analysisId}`),
    q('additions', '/additions'),
    q('chemicals', '/chemicals'),
    q('bath board', '/baths'),
    q('bath board: all fills', '/baths?fills=all&limit=200'),
    q('bath board: all that are past a stop limit', '/baths?fills=all&state=stop'),
    q('a bath', `/baths/${it.bath.id}`),
    q('a bath of years ago', `/baths/${it.old.id}`),
    q('colour of a bath', `/baths/${it.bath.id}/colour`),
    q('sheet of an analysis', `/baths/${it.bath.id}/analysis-sheet`),
    q('sheet of an addition', `/baths/${it.bath.id}/addition-sheet`),
    q('chart of a tank', `/tanks/${it.bath.tankId}/bath-chart?component=${it.component}`, {
      grows: 'every analysis is a point',
    }),
    q('bath reminders', '/bath-reminders'),
    q('rates from stock', '/rate-cards/from-stock?days=365'),
    q('tankside', '/tankside'),
    q('tankside: a tank', `/tankside?tankId=${it.bath.tankId}`),
    q('today: owner', '/today'),
    ...(['planner', 'operator', 'lab', 'quality', 'estimator'] as const).map((role) =>
      q(`today: ${role}`, '/today', { role }),
    ),
    q('people', '/people'),
    q('my sign-ins', '/me/sign-ins'),
    q('me', '/me'),
  ];
}
