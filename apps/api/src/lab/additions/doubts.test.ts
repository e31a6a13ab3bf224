import { density } from '@huelot/calc';
import type { Addition, AdditionSheet } from '@huelot/contracts';
import { beforeAll, expect, it } from 'vitest';
import { type Ask, testApp } from '../../../../../tests/support/app.ts';
import * as lab from '../../../../../tests/support/lab.ts';

const { as, db } = await testApp();
let lena: Ask & { personId: number };
let lars: Ask & { personId: number };
beforeAll(async () => {
  lena = await as('lab', 'planner');
  lars = await as('lab');
  await lab.givePin(db, [lars.personId], '4711');
});
const issues = (reply: Awaited<ReturnType<Ask>>) =>
  reply.json<{ issues?: { path: string; message: string }[] }>().issues ?? [];
const checker = () => ({ personId: lars.personId, pin: '4711' });

const water = (options: lab.EquippedLab, { kg, reason = '' }: { kg: number; reason?: string }) => ({
  kind: 'water',
  fromAnalysisId: null,
  request: {
    type: 'level',
    solute: null,
    volumeL: 395,
    fullVolumeL: 400,
    temperatureC: 60,
    massFractionWhenFull: null,
  },
  steps: [
    {
      action: 'add-water',
      chemicalLotId: null,
      kg,
      volumeL: kg,
      portions: 1,
      riseK: null,
      heldBack: false,
      note: '',
    },
  ],
  reason,
});
const planWater = async ({ bath }: lab.EquippedLab, payload: object) =>
  lena({
    method: 'POST',
    url: `/api/baths/${bath.id}/additions`,
    headers: { 'if-match': `"${(await lab.sheetOf(lena, bath.id)).bath.version}"` },
    payload,
  });

it('an addition that the tank has no room for was planned without a word', async () => {
  const of = await lab.equipLab(lena);
  const refused = await planWater(of, water(of, { kg: 90, reason: '' }));
  expect(refused.statusCode).toBe(422);
  const silent = await planWater(of, { ...water(of, { kg: 90 }), steps: water(of, { kg: 90 }).steps });
  expect(issues(silent)[0]?.path).toBe('reason');
  const planned = await planWater(of, water(of, { kg: 90, reason: 'the drain stands open' }));
  expect(planned.statusCode, planned.body).toBe(201);
  expect(planned.json<Addition>()).toMatchObject({
    reason: 'the drain stands open',
    questions: ['the bath would stand at 485 L, and the tank has room for 430 L'],
  });
});

it('portions went on at any temperature, and a bath ended above what its tank may be', async () => {
  const of = await lab.equipLab(lena);
  const planned = await lab.plan(lena, of, (await lab.analyse(lena, of)).id);
  const url = `/api/additions/${planned.id}/complete`;
  const hot = lab.asPlanned(planned, {
    checker: checker(),
    temperatureBeforeC: 93,
    temperatureAfterC: 99,
  });
  const silent = await lena({ method: 'POST', url, payload: hot });
  expect(issues(silent)[0]).toMatchObject({ path: 'reason' });
  expect(issues(silent)[0]?.message).toMatch(/begun at 93 °C.*up to 9\d.*ended at 99 °C.*up to 95 °C/);
  const booked = await lab.post<Addition>(lena, url, { ...hot, reason: 'the cooler had failed' });
  expect(booked.done?.questions).toHaveLength(2);
});

it('half a litre more than stood there was decanted', async () => {
  const of = await lab.equipLab(lena);
  const planned = await lab.plan(lena, of, (await lab.analyse(lena, of)).id);
  const done = lab.asPlanned(planned, { checker: checker(), volumeBeforeL: 300 });
  const waste = { volumeL: 350, category: 'alkaline', destination: 'own treatment', document: '' } as const;
  const decant = {
    action: 'decant',
    chemicalLotId: null,
    kg: 520,
    volumeL: 350,
    measured: 'by-level',
    waste,
  } as const;
  const reply = await lena({
    method: 'POST',
    url: `/api/additions/${planned.id}/complete`,
    payload: { ...done, lines: [decant, ...done.lines] },
  });
  expect(issues(reply)[0]?.path).toBe('reason');
});

it('the level that an analysis recorded was forgotten by its plan, and what allows a large one was not shown', async () => {
  const of = await lab.equipLab(lena);
  const first = await lab.analyse(lena, of, { volumeL: 392 });
  const sheet: AdditionSheet = await lab.sheetOf(lena, of.bath.id);
  expect(sheet.strength).toMatchObject({ analysisId: first.id, volumeL: 392 });
  expect(sheet.strengthAnalyses.map(({ number }) => number)).toEqual([first.number]);
  expect(sheet.tankLimits).toEqual({ minC: 40, maxC: 95, brimL: 1260 });
});

it('a bath with carbonate was weighed as potassium hydroxide alone, though its sample said how heavy it is', async () => {
  const of = await lab.equipLab(lena);
  const { densityKgPerM3, readings } = await lab.analyse(lena, of);
  const temperatureC = 'temperatureC' in readings ? readings.temperatureC : null;
  const { strength } = await lab.sheetOf(lena, of.bath.id);
  const massFraction = strength?.massFraction ?? 0;
  expect(temperatureC).not.toBeNull();
  const pure = density({ solute: 'KOH', massFraction, temperatureC: temperatureC ?? 20 }).kgPerM3;
  expect(strength?.densityRatio).toBeCloseTo((densityKgPerM3 ?? 0) / pure, 12);
  expect(strength?.densityRatio).toBeGreaterThan(1);
});
