import type {
  AnalysisMethod,
  LoadPlan,
  LotTrace,
  Order,
  PageRef,
  NewBathSetup,
  listReadySteps,
  StepOverride,
  Tank,
  Traveler,
} from '@huelot/contracts';
import { beforeAll, expect, test } from 'vitest';
import type { z } from 'zod';
import type { Ask } from '../support/app.ts';
import { givePin, kohSetup, pageOf, putSetup } from '../support/lab.ts';
import { good, mainLine, ok, post, signOff } from '../support/main-line.ts';

const { db, as, operator, planner, quality, acceptedOrder, releasedLots, opened, shop } = await mainLine();
let lena: Ask & { personId: number };
let bathId = 0;
let method: AnalysisMethod;
const cleanTank = shop.tanks[0]?.tankId ?? 0;

const limits = { target: 60, low: 50, high: 70, stopLow: 40, stopHigh: 80 };
const setup: NewBathSetup = {
  ...kohSetup,
  solute: null,
  impurity: null,
  components: [
    { key: 'alkali', name: 'alkalinity', unit: 'gramsPerLitre', referenceTemperatureC: 20, ...limits },
  ],
  plans: [
    {
      ...kohSetup.plans[0],
      key: 'daily',
      components: ['alkali'],
      methodId: null,
      everyDays: 1,
      everyLoads: null,
      everyAreaM2: null,
      everyAmpereHours: null,
    },
  ],
};
const found = (value: number, agoMs = 0) => {
  const at = new Date(Date.now() - agoMs).toISOString();
  return ok<{ id: number; number: string }>(
    post(lena, `/baths/${bathId}/analyses`, {
      methodId: method.id,
      sampledAt: at,
      analysedAt: at,
      why: 'schedule',
      samplePoint: '',
      volumeL: null,
      agitation: null,
      bathTemperatureC: null,
      readings: {
        kind: 'plain',
        values: [
          {
            component: 'alkali',
            unit: 'gramsPerLitre',
            referenceTemperatureC: 20,
            value,
            standardUncertainty: 0.5,
          },
        ],
      },
      titrantId: null,
      instrumentId: null,
      answer: '',
      notes: '',
    }),
    201,
  );
};

beforeAll(async () => {
  lena = await as('lab');
  const bath = await db.prisma.bath.findFirstOrThrow({ where: { tankId: cleanTank } });
  bathId = bath.id;
  const { items } = await ok<{ items: AnalysisMethod[] }>(lena({ url: '/api/methods?search=AS-FOUND' }));
  method = items[0] as AnalysisMethod;
  await putSetup(lena, bathId, setup);
});

test('how a bath stands is on tanks, ready steps and travelers; a stop takes a word and a reason, and the lot remembers', async () => {
  const [lot, other] = await releasedLots();
  const before = await found(60, 60_000);
  const tank = () => ok<Tank>(operator({ url: `/api/tanks/${cleanTank}` }));
  expect((await tank()).bath?.status).toMatchObject({ state: 'in-range', needsOverride: false });

  await found(35, 30_000);
  expect((await tank()).bath?.status).toMatchObject({
    state: 'stop',
    reasons: ['alkalinity is below its stop limit: 35 g/L, limit 40 g/L'],
  });
  const ready = await ok<z.output<typeof listReadySteps.reply>>(operator({ url: '/api/tankside' }));
  expect(ready.items.find(({ lotId }) => lotId === lot?.id)?.bathStatus?.state).toBe('stop');
  const traveler = await opened(lot?.id ?? 0);
  expect(traveler.steps.map(({ bathStatus }) => bathStatus?.state ?? null)).toEqual([
    'stop',
    'not-watched',
    'not-watched',
    null,
  ]);

  const url = `/steps/${traveler.steps[0]?.id ?? 0}/sign-off`;
  const body = signOff(24, good[1] ?? []);
  const refused = await post(operator, url, body);
  expect(refused.json()).toMatchObject({ status: 409, code: 'override-needed', current: { state: 'stop' } });
  const own = { reason: 'cleaning only, checked by water break', by: null };
  const overrides = `/steps/${traveler.steps[0]?.id ?? 0}/overrides`;
  expect((await post(operator, overrides, own)).statusCode).toBe(403);
  await givePin(db, [quality.personId, operator.personId], '4711');
  const by = { personId: quality.personId, pin: '4711' };
  const given = await ok<StepOverride>(post(operator, overrides, { ...own, by }), 201);
  const signed = await ok<Traveler>(post(operator, url, { ...body, overrideId: given.id }), 201);
  expect(signed.steps[0]?.signOff).toMatchObject({
    bathState: 'stop',
    bathReasons: ['alkalinity is below its stop limit: 35 g/L, limit 40 g/L'],
    override: { reason: own.reason },
  });
  expect(signed.steps[0]?.bathStatus).toBeNull();

  await new Promise((passes) => setTimeout(passes, 20));
  const after = await found(58);
  const trace = await ok<LotTrace>(quality({ url: `/api/lots/${lot?.id ?? 0}/trace` }));
  expect(trace.baths).toMatchObject([
    {
      signOffId: signed.steps[0]?.signOff?.id,
      before: { results: [{ component: 'alkali', value: 35, state: 'stop' }] },
      after: { number: after.number, results: [{ value: 58 }] },
    },
  ]);
  expect(trace.baths[0]?.before?.number).not.toBe(before.number);

  // Back in range nobody's word is needed, and one that is given is not kept.
  const next = await opened(other?.id ?? 0);
  const plain = await ok<Traveler>(post(operator, `/steps/${next.steps[0]?.id ?? 0}/sign-off`, body), 201);
  expect(plain.steps[0]?.signOff).toMatchObject({ bathState: 'in-range', override: null });
});

test('an analysis that was asked for makes a bath overdue until it is made', async () => {
  await found(60);
  const asked = await ok<{ id: number }>(
    post(planner, `/baths/${bathId}/requests`, {
      components: [],
      dueAt: new Date().toISOString(),
      note: 'streaks on the rack',
    }),
    201,
  );
  const waiting = await pageOf(lena, bathId);
  expect(waiting.status).toMatchObject({ state: 'watch', overdue: true, needsOverride: true });
  expect(waiting.status.reasons[0]).toContain('streaks on the rack');
  const today = await ok<{ sections: { key: string; items: { title: string; urgent: boolean }[] }[] }>(
    lena({ url: '/api/today' }),
  );
  // Whoever may override sees the stopped baths first; one that is only overdue is not among them.
  expect(today.sections.slice(0, 2)).toMatchObject([
    { key: 'stoppedBaths', items: [] },
    { key: 'lab', items: [{ urgent: true }] },
  ]);
  await found(60);
  expect((await pageOf(lena, bathId)).status.overdue).toBe(false);
  expect((await post(lena, `/analysis-requests/${asked.id}/close`, { reason: 'done' })).statusCode).toBe(409);
});

test('a stopped bath was neither on the planner’s Today nor a concern at release', async () => {
  await found(35);
  interface Today {
    sections: { key: string; items: { page: PageRef; detail: string }[] }[];
  }
  for (const ask of [planner, lena]) {
    const { sections } = await ok<Today>(ask({ url: '/api/today' }));
    expect(sections.find(({ key }) => key === 'stoppedBaths')?.items).toMatchObject([
      {
        page: { kind: 'bath', id: bathId },
        detail: expect.stringContaining('below its stop limit') as string,
      },
    ]);
  }
  const order = await acceptedOrder();
  const plan = await ok<LoadPlan>(planner({ url: `/api/order-lines/${order.lines[0]?.id}/load-plan` }));
  expect(plan.steps[0]?.tanks).toMatchObject([
    {
      id: cleanTank,
      concerns: [expect.stringMatching(/^bath is stopped: .*35 g\/L, limit 40 g\/L/) as string],
      stopped: true,
    },
  ]);
});

test('loads were released through a stopped bath without a word, or a word was given for nothing', async () => {
  const order = await acceptedOrder();
  const line = order.lines[0] as Order['lines'][number];
  const receipt = { count: 48, reason: '' };
  await ok(post(planner, `/order-lines/${line.id}/receipt`, receipt, { 'if-match': `"${line.version}"` }));
  const release = (extra: object = {}) =>
    post(planner, `/order-lines/${line.id}/release`, {
      ...{ rackId: shop.rackId, supplyId: shop.supplyId, tanks: shop.tanks, loads: [24] },
      ...{ dueDate: '2099-01-15', priority: 0, ...extra },
    });
  const refused = await release();
  expect(refused.json()).toMatchObject({
    ...{ status: 409, code: 'override-needed', issues: [{ path: 'stopped.reason' }] },
    detail: expect.stringContaining('limit 40 g/L') as string,
  });
  expect((await release({ stopped: { reason: ' ' } })).statusCode).toBe(422);
  expect(await db.prisma.lot.count({ where: { orderLineId: line.id } })).toBe(0);
  const { lots } = await ok<{ lots: { id: number }[] }>(
    release({ stopped: { reason: 'cleaned by hand' } }),
    201,
  );
  const entry = await db.prisma.auditEntry.findFirstOrThrow({
    where: { recordKind: 'lot', recordId: lots[0]?.id ?? 0, action: { startsWith: 'let it go on' } },
  });
  expect([entry.reason, entry.action]).toEqual(['cleaned by hand', expect.stringContaining('is stopped')]);
  await found(60);
  const needless = await release({ stopped: { reason: 'cleaned by hand' } });
  expect(needless.json()).toMatchObject({ status: 422, issues: [{ path: 'stopped' }] });
});
