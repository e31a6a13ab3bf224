import type { Addition, ChemicalLot } from '@huelot/contracts';
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
const checker = () => ({ personId: lars.personId, pin: '4711' });
const issues = (reply: Awaited<ReturnType<Ask>>) =>
  reply.json<{ issues?: { path: string; message: string }[] }>().issues ?? [];

let count = 0;
async function stock(extra: object): Promise<ChemicalLot> {
  count += 1;
  const chemical = await lab.post<{ id: number }>(lena, '/api/chemicals', {
    code: `ST-${count}`,
    name: 'Sulfuric acid 96 %',
    formula: '',
    solute: 'H2SO4',
    form: 'liquid',
    assayMassFraction: 0.96,
    impurityMassFraction: 0,
    densityKgPerM3: null,
    hazards: ['corrosive'],
    supplier: '',
    reorderPointKg: null,
    sdsFileId: null,
    notes: '',
    ...extra,
  });
  return lab.receive(lena, chemical.id, { quantityKg: 200 });
}
const planFor = async (options: lab.EquippedLab, payload: object) => {
  const { bath } = await lab.sheetOf(lena, options.bath.id);
  return lena({
    method: 'POST',
    url: `/api/baths/${options.bath.id}/additions`,
    headers: { 'if-match': `"${bath.version}"` },
    payload,
  });
};
const byHand = (chemicalLotId: number, { kg = 10, reason = '' } = {}) => ({
  kind: 'dye',
  fromAnalysisId: null,
  request: null,
  reason,
  steps: [
    {
      action: 'add-stock',
      chemicalLotId,
      kg,
      volumeL: null,
      portions: 1,
      riseK: null,
      heldBack: false,
      note: '',
    },
  ],
});

describe('96 % sulfuric acid chosen for an addition of caustic', () => {
  it('is booked only with its danger named, a reason and a second person, and keeps what was asked', async () => {
    const of = await lab.equipLab(lena);
    const acid = await stock({});
    const analysis = await lab.analyse(lena, of);
    const planned = await lab.plan(lena, of, analysis.id);
    const done = lab.asPlanned(planned, { checker: checker() });
    const payload = { ...done, lines: done.lines.map((line) => ({ ...line, chemicalLotId: acid.id })) };
    const url = `/api/additions/${planned.id}/complete`;
    const silent = await lena({ method: 'POST', url, payload });
    expect(silent.statusCode).toBe(422);
    expect(issues(silent)[0]).toMatchObject({ path: 'reason' });
    expect(issues(silent)[0]?.message).toMatch(/acid into an alkaline bath.*not the planned chemical/s);
    const alone = await lena({
      method: 'POST',
      url,
      payload: { ...payload, reason: 'it happened', checker: null },
    });
    expect(issues(alone)[0]).toMatchObject({ path: 'checker' });
    expect((await lena({ url: `/api/chemical-lots/${acid.id}/movements` })).body).not.toContain('"use"');

    // It records what was done: refusing it for good would hide it.
    const booked = await lab.post<Addition>(lena, url, {
      ...payload,
      reason: 'taken for caustic, tank evacuated',
    });
    expect(booked.done?.questions.join()).toContain('acid into an alkaline bath');
    expect(booked.done).toMatchObject({ reason: 'taken for caustic, tank evacuated' });
  });

  it('cannot be planned by hand as “dye” without a word either', async () => {
    const of = await lab.equipLab(lena);
    const acid = await stock({});
    const refused = await planFor(of, byHand(acid.id));
    expect(issues(refused)[0]?.path).toBe('reason');
    expect(issues(refused)[0]?.message).toContain('acid into an alkaline bath');
    const planned = await planFor(of, byHand(acid.id, { reason: 'neutralisation trial under exhaust' }));
    expect(planned.statusCode).toBe(201);
    expect(planned.json<Addition>().questions).toHaveLength(1);
  });

  it('is caught as a corrosive nobody classed, and as ammonium salt', async () => {
    const of = await lab.equipLab(lena);
    const unknown = await stock({ solute: null, name: 'Brightener' });
    const salt = await stock({ solute: 'NH4_2SO4', form: 'solid', assayMassFraction: 0.99, hazards: [] });
    expect(issues(await planFor(of, byHand(unknown.id)))[0]?.message).toContain(
      'a corrosive of unknown class',
    );
    expect(issues(await planFor(of, byHand(salt.id)))[0]?.message).toContain('ammonia');
  });

  it('nothing is asked of another lot of the planned chemical', async () => {
    const of = await lab.equipLab(lena);
    const other = await lab.receive(lena, of.chemical.id, { quantityKg: 200 });
    const planned = await lab.plan(lena, of, (await lab.analyse(lena, of)).id);
    const done = lab.asPlanned(planned, { checker: checker() });
    const payload = { ...done, lines: done.lines.map((line) => ({ ...line, chemicalLotId: other.id })) };
    const booked = await lab.post<Addition>(lena, `/api/additions/${planned.id}/complete`, payload);
    expect(booked.done?.questions).toEqual([]);
  });
});

describe('a plan of 169 kg from one slipped titration', () => {
  const huge = (options: lab.EquippedLab, fromAnalysisId: number) => {
    const plan = lab.raise(options, fromAnalysisId);
    return { ...plan, request: { ...plan.request, massFraction: 0.35 }, kind: 'chemical' };
  };
  it('waits for a second analysis that agrees', async () => {
    const of = await lab.equipLab(lena);
    await lab.receive(lena, of.chemical.id, { quantityKg: 400 });
    const slipped = await lab.analyse(lena, of, { factor: 0.7 });
    const one = await planFor(of, huge(of, slipped.id));
    expect(one.statusCode).toBe(409);
    expect(one.body).toMatch(/kg is \d\d % of the bath.*only A-\d+/);

    const right = await lab.analyse(lena, of, { factor: 1, answer: 'repeated with a new flask' });
    const two = await planFor(of, huge(of, right.id));
    expect(two.statusCode).toBe(409);
    expect(two.body).toContain('do not agree');

    const again = await lab.analyse(lena, of, { factor: 1.001 });
    const three = await planFor(of, huge(of, again.id));
    expect(three.statusCode).toBe(409);
    expect(three.body).toContain('found another strength than the plan starts from');

    const weak = () => lab.analyse(lena, of, { factor: 0.7, answer: 'thinned overnight, looked at twice' });
    await weak();
    const { id } = await weak();
    const massFraction = (await lab.sheetOf(lena, of.bath.id)).strength?.massFraction;
    const plan = huge(of, id);
    const four = await planFor(of, { ...plan, request: { ...plan.request, massFraction } });
    expect(four.statusCode, four.body).toBe(201);
  });

  it('goes by the share that the shop set for the bath', async () => {
    const of = await lab.equipLab(lena);
    await lab.putSetup(lena, of.bath.id, {
      ...lab.kohSetup,
      secondAnalysisAboveShare: 0.05,
      reason: 'careful',
    });
    const analysis = await lab.analyse(lena, of);
    expect((await planFor(of, lab.raise(of, analysis.id))).statusCode).toBe(409);
  });
});
