import type { AssessmentOffer, ImpactAssessment, LotColour } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { mainLine, ok, post } from '../../../../../tests/support/main-line.ts';

const { db, shop, planner, quality, operator, releasedLots, signAll } = await mainLine();
const offers = async () =>
  (await ok<{ items: AssessmentOffer[] }>(quality({ url: '/api/assessment-offers' }))).items;
const causes = async () => (await offers()).map(({ cause }) => cause);
const dismissal = (cause: string, person = quality) =>
  post(person, `/assessment-offers/${cause}/dismissal`, { reason: 'nothing hung in it' });
const opening = (cause: string) =>
  post(quality, '/impact-assessments', {
    ...{ about: null, from: null, to: null, cause, reason: 'too strong' },
    ...{ ownerId: quality.personId, dueOn: '2099-02-01' },
  });

let number = 0;
let bathId: number;
let methodId: number;
const analysed = (
  state: string,
  { minutesAgo = 0, ...extra }: { minutesAgo?: number; [key: string]: unknown } = {},
) => {
  const sampledAt = new Date(Date.now() - minutesAgo * 60_000);
  return db.prisma.analysis.create({
    data: {
      ...{ number: `A-IA${(number += 1)}`, bathId, methodId, sampledAt, analysedAt: sampledAt },
      ...{ analystId: shop.authorId, why: 'schedule', readings: {}, calcVersion: 'test', ...extra },
      results: {
        create: {
          ...{ bathId, sampledAt, component: 'KOH', name: 'KOH', value: 1, unit: 'gramsPerLitre', state },
        },
      },
    },
  });
};

let first: number;
let good: { id: number };
let stop: { id: number };
beforeAll(async () => {
  bathId = (await db.prisma.bath.findFirstOrThrow({ where: { tankId: shop.tanks[1]?.tankId ?? 0 } })).id;
  methodId = (
    await db.prisma.analysisMethod.create({
      data: { code: 'IA', revision: 1, name: 'For assessing', kind: 'ph', settings: {}, source: 'a test' },
    })
  ).id;
  const lots = await releasedLots();
  first = lots[0]?.id ?? 0;
  // Of a bath in which nothing was signed yet.
  await analysed('stop', { minutesAgo: 50, notes: 'before any work' });
  good = await analysed('in-range', { minutesAgo: 40 });
  await signAll(first);
  stop = await analysed('stop');
});

describe('what the record offers to assess', () => {
  it('a bath was stopped: what hung in it since its last good analysis was not looked at', async () => {
    expect(await causes()).toEqual([`bath-stop-${stop.id}`]);
    const [offer] = await offers();
    expect([offer?.about, offer?.from !== null && offer?.to !== null]).toEqual([`bath-${bathId}`, true]);
    // Analysed again and still beyond: that is the same stop.
    await analysed('stop');
    expect(await causes()).toEqual([`bath-stop-${stop.id}`]);
    const today = await ok<{ sections: { key: string; items: { page: object }[] }[] }>(
      quality({ url: '/api/today' }),
    );
    expect(today.sections.find(({ key }) => key === 'assessmentOffers')?.items[0]?.page).toEqual({
      ...{ kind: 'stopToAssess', id: stop.id },
    });
  });

  it('the same stop was assessed twice, by two people at once', async () => {
    const sheet = await ok<{ totals: { lots: number }; aboutName: string }>(
      quality({ url: `/api/impact-assessment-sheet?cause=bath-stop-${stop.id}` }),
    );
    expect(sheet.totals.lots).toBe(1);
    const both = await Promise.all([opening(`bath-stop-${stop.id}`), dismissal(`bath-stop-${stop.id}`)]);
    expect(both.map(({ statusCode }) => statusCode).filter((status) => status < 300)).toHaveLength(1);
    expect(both.map(({ statusCode }) => statusCode)).toContain(409);
    expect(await causes()).toEqual([]);
    expect((await opening(`bath-stop-${stop.id}`)).json()).toMatchObject({ code: 'already-exists' });
    expect((await dismissal('bath-stop-999999')).statusCode).toBe(404);
    expect((await dismissal('bath-stop-0')).statusCode).toBe(422);
    expect((await dismissal(`bath-stop-${stop.id}`, operator)).statusCode).toBe(403);
  });

  it('an analysis was voided or corrected, and nobody asked what was signed upon it', async () => {
    const same = await analysed('in-range', {
      supersedesId: good.id,
      supersedeReason: 'burette',
      minutesAgo: 40,
    });
    // The figure moved, its judgement did not.
    expect(await causes()).toEqual([]);
    const turned = await analysed('watch', {
      supersedesId: same.id,
      supersedeReason: 'factor',
      minutesAgo: 40,
    });
    expect(await causes()).toEqual([`analysis-corrected-${same.id}`]);
    await db.prisma.analysis.update({
      where: { id: turned.id },
      data: { voidedAt: new Date(), voidedById: shop.authorId, voidReason: 'sample of another tank' },
    });
    expect(await causes()).toEqual([`analysis-corrected-${same.id}`, `analysis-corrected-${turned.id}`]);
    const { assessed } = await ok<ImpactAssessment>(opening(`analysis-corrected-${turned.id}`), 201);
    expect(assessed.map(({ lotId }) => lotId)).toEqual([first]);
    expect((await ok<{ items: object[] }>(dismissal(`analysis-corrected-${same.id}`))).items).toEqual([]);
    expect(
      await db.prisma.auditEntry.count({ where: { action: { startsWith: 'dismissed what was' } } }),
    ).toBe(await db.prisma.assessmentDismissal.count());
  });

  it('a reading was corrected after pieces were shipped upon it', async () => {
    const check = { acceptedCount: 24, rejectedCount: 0, reworkCount: 0, reason: '', notes: '' };
    await ok(post(quality, `/lots/${first}/final-check`, check), 201);
    const signOff = await db.prisma.stepSignOff.findFirstOrThrow({
      where: { lotId: first, readings: { some: { quantity: 'voltageV' } } },
    });
    const correct = (newValue: number) =>
      post(quality, `/sign-offs/${signOff.id}/corrections`, {
        ...{ quantity: 'voltageV', newValue, reason: 'the other meter' },
      });
    await ok(correct(31), 201);
    expect(await causes()).toEqual([]);
    await ok(
      post(planner, `/lots/${first}/shipments`, { quantity: 20, carrier: '', document: '', notes: '' }),
      201,
    );
    await ok(correct(60), 201);
    const [offer] = await offers();
    expect([offer?.kind, offer?.lotId]).toEqual(['step-corrected', first]);
    const { assessed, about } = await ok<ImpactAssessment>(opening(offer?.cause ?? ''), 201);
    expect([about, assessed.map(({ lotId }) => lotId)]).toEqual([null, [first]]);
  });

  it('a colour reading was withdrawn after pieces were shipped upon it', async () => {
    const read = await db.prisma.colourReading.create({
      data: {
        ...{ lotId: first, recipeRevisionId: shop.recipeRevisionId, grade: 'measured', verdict: 'pass' },
        ...{
          conditions: { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 },
          instrument: 'meter',
          expandedUncertainty: 0.5,
        },
        ...{ labL: 40, labA: 8, labB: -30, readById: shop.authorId, readAt: new Date() },
      },
    });
    const withdrawal = { withdrawn: true, lab: null, confirmed: false, reason: 'lamp was old' };
    await ok<LotColour>(post(quality, `/colour-readings/${read.id}/corrections`, withdrawal), 201);
    expect(await causes()).toEqual([`colour-corrected-${read.id}`]);
  });

  it('an instrument was found out of tolerance, and what it had read since its last calibration was not looked at', async () => {
    const { id: instrumentId } = await db.prisma.instrument.create({
      data: { code: 'TH-IA', name: 'thermometer', kind: 'thermometer' },
    });
    const calibrated = (day: string, asFound: 'pass' | 'fail', extra: object = {}) =>
      db.prisma.instrumentCalibration.create({
        data: {
          ...{ instrumentId, doneOn: new Date(day), doneBy: 'the lab', reference: 'ice', asFound },
          ...{ referenceCertificate: 'C-1', points: [{}], asLeft: 'pass', recordedById: shop.authorId },
          ...extra,
        },
      });
    await calibrated('2026-01-10', 'pass');
    const wrong = await calibrated('2026-02-10', 'fail');
    const own = async () => (await offers()).filter(({ kind }) => kind === 'calibration-failed');
    expect(await own()).toMatchObject([
      {
        ...{ cause: `calibration-failed-${wrong.id}`, about: `instrument-${instrumentId}` },
        ...{ from: '2026-01-10', to: '2026-02-10' },
      },
    ]);
    // Written down wrongly: the one in its place passed.
    await calibrated('2026-02-10', 'pass', { replacesId: wrong.id, reason: 'of another thermometer' });
    expect(await own()).toEqual([]);
    const failed = await calibrated('2026-03-10', 'fail');
    await ok(dismissal(`calibration-failed-${failed.id}`));
    expect(await own()).toEqual([]);
    const entry = await db.prisma.auditEntry.findFirstOrThrow({ orderBy: { id: 'desc' } });
    expect([entry.recordKind, entry.recordId]).toEqual(['instrument', instrumentId]);
  });
});
