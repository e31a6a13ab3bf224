import { createHash } from 'node:crypto';
import type { Addition, BathPage, CouponSeries, TrialRun } from '@huelot/contracts';
import type { TestApp } from './app.ts';
import { ladderCalibration } from './calibrations.ts';
import * as lab from './lab.ts';

const pin = '4711';

/**
 * What the lab signs: analyses that were reviewed and voided, an addition that was done and one that was withdrawn, holds,
 * a bath that was dumped, a coupon series that was approved. Returns where it is read, and the living rows behind it.
 */
export async function issuedLab({ db, as }: Pick<TestApp, 'db' | 'as'>) {
  const [analyst, second, approver] = [await as('lab', 'planner'), await as('lab'), await as('quality')];
  await lab.givePin(db, [second.personId], pin);
  const equipped = await lab.equipLab(analyst);
  const instrument = await lab.post<{ id: number }>(analyst, '/api/instruments', {
    code: 'BU-1',
    name: 'Burette',
    kind: 'burette',
    serial: '',
    calibrationDueOn: '2099-01-01',
    notes: '',
  });
  const analysis = await lab.analyse(analyst, equipped, { instrumentId: instrument.id });
  await lab.post(second, `/api/analyses/${analysis.id}/review`, {});
  const planned = await lab.plan(analyst, equipped, analysis.id);
  const done = await lab.post<Addition>(
    analyst,
    `/api/additions/${planned.id}/complete`,
    lab.asPlanned(planned, { checker: { personId: second.personId, pin } }),
  );
  const confirming = await lab.analyse(analyst, equipped, { factor: 1.03, why: 'after-addition' });
  await lab.release(analyst, equipped.bath.id);
  const withdrawn = await lab.plan(analyst, equipped);
  await lab.post(analyst, `/api/additions/${withdrawn.id}/withdraw`, { reason: 'not needed' });
  const wrong = await lab.analyse(analyst, equipped, { factor: 1.031 });
  await lab.post(second, `/api/analyses/${wrong.id}/void`, { reason: 'taken from another tank' });

  const emptied = await lab.equipLab(analyst);
  const { bath } = (await analyst({ url: `/api/baths/${emptied.bath.id}` })).json<BathPage>();
  const dumped = await analyst({
    method: 'POST',
    url: `/api/baths/${bath.id}/dump`,
    headers: { 'if-match': `"${bath.version}"` },
    payload: {
      reason: 'spent',
      waste: { volumeL: 400, category: 'alkaline', destination: 'own treatment', document: 'W-1' },
    },
  });
  if (dumped.statusCode !== 200) throw new Error(dumped.body);

  const material = await db.prisma.material.create({
    data: {
      name: 'Carbon steel',
      baseMetal: 'steel',
      densityKgPerM3: 7850,
      heatCapacityJPerKgK: 490,
      source: 'test',
      evidence: 'M',
    },
  });
  await ownRows(db, { analyst: analyst.personId, equipped });
  const method = await db.prisma.analysisMethod.findFirstOrThrow({ where: { code: 'OWN' } });
  const file = await db.prisma.file.findFirstOrThrow();
  const coupons = await approvedCoupons({ analyst, approver, materialId: material.id });
  const titanium = await db.prisma.material.create({
    data: {
      ...{ name: 'Titanium grade 2', baseMetal: 'titanium', densityKgPerM3: 4510, heatCapacityJPerKgK: 524 },
      ...{ source: 'test', evidence: 'M' },
    },
  });
  const people = { writer: analyst, approver };
  const calibration = await ladderCalibration(people, { code: 'CAL-TI', materialId: titanium.id });
  const trial = await signedTrial({ analyst, equipped, materialId: material.id });
  const analyses = [analysis, confirming, wrong].map(({ id }) => `/analyses/${id}`);
  return {
    equipped,
    /** What an analysis is made of, for one more. */
    analyseAgain: () => lab.analyse(analyst, equipped),
    addresses: [
      ...analyses,
      ...[done, withdrawn].map(({ id }) => `/additions/${id}`),
      ...['/analyses', '/analyses.csv', '/additions', '/additions.csv'],
      `/baths/${bath.id}`,
      ...['', '/setups', '/holds'].map((part) => `/baths/${equipped.bath.id}${part}`).slice(1),
      `/chemical-lots/${equipped.lot.id}/movements`,
      ...[
        `/methods/${method.id}`,
        `/files/${file.id}`,
        `/tanks/${equipped.tank.id}/bath-chart?component=KOH`,
      ],
      `/coupon-series/${coupons.id}`,
      `/coupon-series/${coupons.id}/trials.csv`,
      `/calibrations/${calibration.id}`,
      '/calibrations',
      `/trial-runs/${trial.id}`,
    ],
    masters: {
      '/tanks/:id': [equipped.tank.id, emptied.tank.id],
      '/chemicals/:id': [equipped.chemical.id],
      '/chemical-lots/:id': [equipped.lot.id],
      '/titrants/:id': [equipped.titrant.id],
      '/instruments/:id': [instrument.id],
      '/materials/:id': [material.id, titanium.id],
    },
  };
}

/** A method of the shop's own in force, a baseline of a chart, and a file, as rows. */
async function ownRows(
  db: TestApp['db'],
  { analyst, equipped }: { analyst: number; equipped: lab.EquippedLab },
) {
  await db.prisma.analysisMethod.create({
    data: {
      ...{ code: 'OWN', revision: 1, status: 'in-force', name: 'As found', kind: 'plain', source: 'test' },
      settings:
        (await db.prisma.analysisMethod.findFirstOrThrow({ where: { code: 'AS-FOUND' } })).settings ?? {},
      ...{ authorId: analyst, inForceSince: new Date() },
    },
  });
  const span = { fromAt: new Date('2026-01-01'), toAt: new Date('2026-02-01') };
  await db.prisma.chartBaseline.create({
    data: { ...span, tankId: equipped.tank.id, component: 'KOH', reason: 'steady', setById: analyst },
  });
  const sheet = await db.prisma.file.create({
    data: {
      ...{ name: 'report.txt', mediaType: 'text/plain', sizeBytes: 1, createdById: analyst },
      sha256: createHash('sha256').update('a').digest(),
    },
  });
  await db.prisma.fileChunk.create({ data: { fileId: sheet.id, seq: 0, bytes: Buffer.from('a') } });
  await db.prisma.file.update({ where: { id: sheet.id }, data: { attachedAt: new Date() } });
  await db.prisma.chemical.update({ where: { id: equipped.chemical.id }, data: { sdsFileId: sheet.id } });
}

/** Coupons that were run at a tank and signed there. */
async function signedTrial({
  analyst,
  equipped,
  materialId,
}: {
  analyst: Awaited<ReturnType<TestApp['as']>>;
  equipped: lab.EquippedLab;
  materialId: number;
}): Promise<TrialRun> {
  const supply = await lab.post<{ id: number }>(analyst, '/api/power-supplies', {
    ...{ code: 'PS-TRIAL', name: 'Rectifier', maxVoltageV: 15, maxCurrentA: 100, efficiency: 0.8, notes: '' },
    tankIds: [equipped.tank.id],
  });
  const draft = await lab.post<CouponSeries>(analyst, '/api/coupon-series', {
    ...{ code: 'ST-2', name: '1075 at the tank', materialId, contents: 'hot-caustic', component: 'KOH' },
    ...{ unit: 'massFraction', referenceTemperatureC: null, preparation: '', notes: '', changeNote: '' },
    trials: [],
  });
  const { id } = await lab.post<TrialRun>(analyst, '/api/trial-runs', {
    ...{ seriesId: draft.id, tankId: equipped.tank.id, supplyId: supply.id, kind: 'strip', pieces: 2 },
    ...{ coatingThicknessUm: null, temperatureC: 50, voltageV: 2.2, timeS: null, intervalS: 60, stepMm: 10 },
    instructions: '',
  });
  const act = (verb: string, payload: object) =>
    lab.post<TrialRun>(analyst, `/api/trial-runs/${id}/${verb}`, payload);
  await act('in', { agoS: 120 });
  await act('readings', { temperatureC: 50, voltageV: 2.2, currentA: null, pH: null, agoS: 100 });
  await act('lifts', { position: 1, agoS: 60 });
  await act('out', { agoS: 0 });
  return act('sign-off', { areaMm2: null, reason: '', note: '', signer: null });
}

async function approvedCoupons({
  analyst,
  approver,
  materialId,
}: {
  analyst: Awaited<ReturnType<TestApp['as']>>;
  approver: Awaited<ReturnType<TestApp['as']>>;
  materialId: number;
}): Promise<CouponSeries> {
  const trial = {
    ...{ mark: 'K1', temperatureC: 50, voltageV: 2.2, timeS: 480, strength: 0.5, outcome: 'interference' },
    ...{ lab: { L: 40, a: 8, b: -30 }, madeOn: '2026-03-02', madeBy: 'L. Frost' },
  };
  const draft = await lab.post<CouponSeries>(analyst, '/api/coupon-series', {
    ...{ code: 'ST-1', name: '1075 in caustic', materialId, contents: 'hot-caustic', component: 'KOH' },
    ...{
      unit: 'massFraction',
      referenceTemperatureC: null,
      preparation: 'ground',
      notes: '',
      changeNote: '',
    },
    trials: [trial, { ...trial, mark: 'K2', strength: 0.48 }],
  });
  const reply = await approver({
    method: 'POST',
    url: `/api/coupon-series/${draft.id}/approve`,
    headers: { 'if-match': `"${draft.version}"` },
    payload: {},
  });
  if (reply.statusCode !== 200) throw new Error(reply.body);
  return reply.json<CouponSeries>();
}
