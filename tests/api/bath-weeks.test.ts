import type { Addition, Analysis, BathPage } from '@huelot/contracts';
import { beforeAll, expect, test } from 'vitest';
import { testApp, type Ask } from '../support/app.ts';
import {
  carbonateGPerLOf,
  dayOfWork,
  freshTank,
  massFractionOf,
  takeOut,
  totalKg,
  twoEndPoints,
  volumeOf,
  type TankContents,
} from '../support/caustic-tank.ts';
import {
  asPlanned,
  equipLab,
  givePin,
  pageOf,
  post,
  receive,
  release,
  sheetOf,
  type EquippedLab,
} from '../support/lab.ts';

const { db, as } = await testApp();
let lab: Ask & { personId: number };
let second: Ask & { personId: number };
beforeAll(async () => {
  [lab, second] = await Promise.all([as('lab', 'planner'), as('lab')]);
  await givePin(db, [second.personId], '4070');
});

const DAYS = 60;
const DAY_MS = 86_400_000;
const opened = Date.now() - (DAYS + 1) * DAY_MS;
const at = (day: number, hours = 0) => new Date(opened + day * DAY_MS + hours * 3_600_000).toISOString();

/** Numbers between -1.5 and 1.5 with a standard deviation of a half, the same in every run. */
function noiseFrom(seed: number): () => number {
  let state = seed;
  const next = () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
  return () => next() + next() + next() - 1.5;
}

interface Run {
  of: EquippedLab;
  tank: TankContents;
  noise: () => number;
}

async function analyse(run: Run, when: string, why: 'schedule' | 'after-addition'): Promise<Analysis> {
  const replicate = () => ({ amount: 2, ...twoEndPoints(run.tank, { sampleG: 2, noise: run.noise }) });
  return post<Analysis>(lab, `/api/baths/${run.of.bath.id}/analyses`, {
    methodId: run.of.method.id,
    sampledAt: when,
    analysedAt: when,
    why,
    samplePoint: 'middle, left',
    volumeL: Number(volumeOf(run.tank).toFixed(0)),
    agitation: true,
    bathTemperatureC: 60,
    readings: {
      kind: 'caustic-two-end-points',
      solute: 'KOH',
      secondReading: 'from-zero',
      basis: 'mass',
      temperatureC: 20,
      dilution: null,
      blankMl: 0,
      replicates: [replicate(), replicate()],
    },
    titrantId: run.of.titrant.id,
    instrumentId: null,
    answer: 'read twice',
    notes: '',
  });
}

const found = (analysis: Analysis, component: string) =>
  analysis.results.find((result) => result.component === component)?.value ?? NaN;

/** Plans what Huelot advises for what was found, does it, and puts it into the tank. */
async function follow(run: Run, analysis: Analysis, when: string): Promise<void> {
  const { bath, setup } = await sheetOf(lab, run.of.bath.id);
  const carbonate = found(analysis, 'K2CO3');
  const reply = await lab({
    method: 'POST',
    url: `/api/baths/${bath.id}/additions`,
    headers: { 'if-match': `"${bath.version}"` },
    payload: {
      kind: 'chemical',
      fromAnalysisId: analysis.id,
      request: {
        type: 'strength',
        solute: 'KOH',
        volumeL: Number(volumeOf(run.tank).toFixed(0)),
        fullVolumeL: 400,
        freeboardL: 30,
        temperatureC: 20,
        massFraction: found(analysis, 'KOH'),
        targetMassFraction: 0.5,
        targetGramsPerLitre: null,
        referenceTemperatureC: null,
        chemicalLotId: run.of.lot.id,
        fillToMark: true,
        impurity:
          carbonate > (setup?.impurity?.aimGramsPerLitre ?? Infinity)
            ? { gramsPerLitre: carbonate, targetGramsPerLitre: setup?.impurity?.aimGramsPerLitre }
            : null,
        coldestTemperatureC: null,
        uncertainty: null,
      },
      steps: null,
      reason: '',
    },
  });
  expect(reply.statusCode, reply.body).toBe(201);
  const planned = reply.json<Addition>();
  const actuals = asPlanned(planned, {
    startedAt: when,
    finishedAt: when,
    checker: { personId: second.personId, pin: '4070' },
  });
  await post<Addition>(lab, `/api/additions/${planned.id}/complete`, actuals);
  for (const { action, kg } of actuals.lines) {
    if (action === 'decant') run.tank = takeOut(run.tank, kg);
    if (action === 'add-water') run.tank = { ...run.tank, waterKg: run.tank.waterKg + kg };
    if (action === 'add-stock') {
      const { waterKg, kohKg, carbonateKg } = run.tank;
      run.tank = {
        kohKg: kohKg + 0.9 * kg,
        carbonateKg: carbonateKg + 0.005 * kg,
        waterKg: waterKg + 0.095 * kg,
      };
    }
  }
}

async function start(seed: number): Promise<Run> {
  const of = await equipLab(lab);
  of.lot = await receive(lab, of.chemical.id, { quantityKg: 3000 });
  await db.pool.query(`update "bath" set "madeUpAt" = $1 where "id" = $2`, [at(0), of.bath.id]);
  return { of, tank: freshTank({ massFraction: 0.5, carbonateGPerL: 35 }), noise: noiseFrom(seed) };
}
const isWeekly = (day: number) => day % 7 === 0;
const stateOf = (analysis: Analysis) =>
  analysis.results.map(({ component, state }) => `${component} ${state}`).join(', ');

test('sixty days with the advice followed: the bath stays in its range and its carbonate under the limit', async () => {
  const run = await start(11);
  let least = 1;
  let mostCarbonate = 0;
  for (let day = 1; day <= DAYS; day += 1) {
    run.tank = dayOfWork(run.tank);
    least = Math.min(least, massFractionOf(run.tank));
    mostCarbonate = Math.max(mostCarbonate, carbonateGPerLOf(run.tank));
    if (!isWeekly(day)) continue;
    const analysis = await analyse(run, at(day), 'schedule');
    expect(found(analysis, 'KOH')).toBeCloseTo(massFractionOf(run.tank), 2);
    if (found(analysis, 'KOH') > 0.495 && found(analysis, 'K2CO3') < 50) continue;
    await follow(run, analysis, at(day, 1));
    const confirmed = await analyse(run, at(day, 3), 'after-addition');
    expect(stateOf(confirmed), `day ${day}`).not.toContain('stop');
    expect(massFractionOf(run.tank)).toBeGreaterThan(0.495);
    expect(massFractionOf(run.tank)).toBeLessThan(0.505);
  }
  expect(least).toBeGreaterThan(0.48);
  expect(mostCarbonate).toBeLessThan(60);
  await release(lab, run.of.bath.id);
  const { life, requests, status } = await pageOf(lab, run.of.bath.id);
  expect(life.additions).toBeGreaterThanOrEqual(3);
  expect(requests).toEqual([]);
  expect(status.state).toBe('in-range');
  expect(totalKg(run.tank)).toBeGreaterThan(550);
});

test('sixty days with the advice ignored: watch comes before stop, and stop before the bath is past it for a week', async () => {
  const run = await start(12);
  const days: { day: number; truth: number; page: BathPage }[] = [];
  let pastStopOn: number | null = null;
  for (let day = 1; day <= DAYS; day += 1) {
    run.tank = dayOfWork(run.tank);
    if (pastStopOn === null && massFractionOf(run.tank) < 0.45) pastStopOn = day;
    if (!isWeekly(day)) continue;
    await analyse(run, at(day), 'schedule');
    days.push({ day, truth: massFractionOf(run.tank), page: await pageOf(lab, run.of.bath.id) });
  }
  const first = (state: string) => days.find(({ page }) => page.status.state === state)?.day ?? Infinity;
  expect(pastStopOn).not.toBeNull();
  expect(first('watch')).toBeLessThan((pastStopOn ?? 0) - 7);
  expect(first('stop')).toBeLessThanOrEqual((pastStopOn ?? 0) + 7);
  const last = days.at(-1);
  expect(last?.page.status.needsOverride).toBe(true);
  expect(last?.page.status.reasons.join(' ')).toMatch(/potassium hydroxide/i);
});
