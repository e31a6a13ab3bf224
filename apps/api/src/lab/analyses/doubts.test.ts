import type { Addition, Analysis, AnalysisSheet } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
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
const send = ({ bath }: lab.EquippedLab, payload: object) =>
  lena({ method: 'POST', url: `/api/baths/${bath.id}/analyses`, payload });
const refusal = (reply: Awaited<ReturnType<Ask>>) =>
  reply.json<{ issues: { path: string; message: string }[] }>().issues[0];

describe('a decimal point slips in a titration', () => {
  it('the question gives the last figure, this one and what would fit, and the answer stays with the record', async () => {
    const of = await lab.equipLab(lena);
    await lab.analyse(lena, of);
    const slipped = lab.titration(of, { factor: 0.1 });
    const refused = await send(of, slipped);
    expect(refused.statusCode).toBe(422);
    expect(refusal(refused)).toMatchObject({ path: 'answer' });
    expect(refusal(refused)?.message).toMatch(
      /potassium hydroxide was 48\.\d+ wt% the last time and is \d\.\d+ wt% now.*has a decimal point slipped\?/,
    );
    expect((await lab.pageOf(lena, of.bath.id)).life.analyses).toBe(1);

    const kept = await lab.post<Analysis>(lena, `/api/baths/${of.bath.id}/analyses`, {
      ...slipped,
      answer: 'the tank was watered down by a burst pipe',
    });
    expect(kept.answer).toContain('burst pipe');
    expect(kept.questions.join()).toContain('decimal point');
    // Corrected to what the flask held, it is compared with the analysis before it, not with itself.
    const corrected = await lena({
      method: 'POST',
      url: `/api/analyses/${kept.id}/corrections`,
      payload: { ...lab.titration(of), reason: 'misread' },
    });
    expect(corrected.statusCode).toBe(201);
  });

  it('is not asked about a bath that was strengthened on record', async () => {
    const of = await lab.equipLab(lena);
    const weak = await lab.analyse(lena, of, { factor: 0.85 });
    const planned = await lab.plan(lena, of, weak.id);
    const strong = lab.titration(of, { factor: 1 });
    expect((await send(of, strong)).statusCode).toBe(422);
    const done = lab.asPlanned(planned, { checker: { personId: lars.personId, pin: '4711' } });
    await lab.post<Addition>(lena, `/api/additions/${planned.id}/complete`, done);
    const now = new Date().toISOString();
    expect((await send(of, { ...strong, sampledAt: now, analysedAt: now })).statusCode).toBe(201);
  });

  it('is known to the page before anything is sent', async () => {
    const of = await lab.equipLab(lena);
    await lab.analyse(lena, of);
    const { background } = (
      await lena({ url: `/api/baths/${of.bath.id}/analysis-sheet` })
    ).json<AnalysisSheet>();
    expect(background).toMatchObject({ side: 'alkali', watched: ['KOH', 'K2CO3'] });
    const koh = background.previous.find(({ component }) => component === 'KOH');
    expect(koh).toMatchObject({ unit: 'massFraction', isStrength: true, expected: null, carriedOutShare: 0 });
  });
});

describe('an acid titration of the caustic bath', () => {
  it('is asked about, though it computes', async () => {
    const of = await lab.equipLab(lena);
    const method = of.methods.find(({ code }) => code === 'ACID-FREE');
    const caustic = await lab.post<{ id: number }>(lena, '/api/titrants', {
      reagent: 'NaOH',
      label: 'NaOH for doubts',
      expiresOn: null,
      notes: '',
      eqPerLitre: 1,
      standardUncertaintyEqPerLitre: 0.001,
      standardisedOn: '2026-01-05',
    });
    const flask = { amount: 10, endPointMl: 36.9 };
    const refused = await send(of, {
      ...lab.titration(of),
      methodId: method?.id,
      titrantId: caustic.id,
      readings: {
        kind: 'sulfuric-free-acid',
        aluminium: 'masked',
        basis: 'volume',
        temperatureC: 20,
        dilution: null,
        blankMl: 0,
        replicates: [flask, flask],
      },
    });
    expect(refused.statusCode).toBe(422);
    expect(refusal(refused)?.message).toContain(
      'found sulfuric acid, and the bath is watched for potassium hydroxide',
    );
  });
});

describe('a figure that no bath can have', () => {
  it.each([-5, 1790])('%s g/L of carbonate is refused in its field', async (value) => {
    const of = await lab.equipLab(lena);
    const method = of.methods.find(({ code }) => code === 'AS-FOUND');
    const figure = { component: 'K2CO3', unit: 'gramsPerLitre', referenceTemperatureC: 20 };
    const refused = await send(of, {
      ...lab.titration(of),
      methodId: method?.id,
      titrantId: null,
      readings: { kind: 'plain', values: [{ ...figure, value, standardUncertainty: null }] },
    });
    expect(refused.statusCode).toBe(422);
    expect(refusal(refused)?.path).toBe('readings.values.0.value');
    expect(refusal(refused)?.message).toContain('carbonate');
  });
});
