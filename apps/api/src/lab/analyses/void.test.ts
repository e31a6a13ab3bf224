import type { Addition, Analysis, AnalysisSummary, BathChart } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Ask, testApp } from '../../../../../tests/support/app.ts';
import * as lab from '../../../../../tests/support/lab.ts';

const { as, db } = await testApp();
let lena: Ask & { personId: number };
let lars: Ask & { personId: number };
let owner: Ask;
beforeAll(async () => {
  lena = await as('lab', 'planner');
  lars = await as('lab');
  owner = await as('owner');
  await lab.givePin(db, [lars.personId], '4711');
});
const voided = (id: number, reason = 'the bottle came from the tank beside it') =>
  lena({ method: 'POST', url: `/api/analyses/${id}/void`, payload: { reason } });

describe('an analysis that turns out to be of another bath', () => {
  it('no longer stops the bath, stands in no chart, and the result before it counts again', async () => {
    const of = await lab.equipLab(lena);
    const good = await lab.analyse(lena, of);
    const wrong = await lab.analyse(lena, of, { factor: 0.8, answer: 'read twice' });
    expect((await lab.pageOf(lena, of.bath.id)).status.state).toBe('stop');

    const reply = await voided(wrong.id);
    expect(reply.json<Analysis>().void).toMatchObject({ reason: 'the bottle came from the tank beside it' });
    const page = await lab.pageOf(lena, of.bath.id);
    expect(page.status.state).toBe('in-range');
    expect(page.latest[0]?.analysisNumber).toBe(good.number);
    expect(page.life.analyses).toBe(1);
    const chart = (
      await lena({ url: `/api/tanks/${of.tank.id}/bath-chart?component=KOH` })
    ).json<BathChart>();
    expect(chart.points.analysisId).toEqual([good.id]);
    expect(chart.components.find(({ key }) => key === 'KOH')?.points).toBe(1);
    const listed = (await lena({ url: `/api/analyses?bathId=${of.bath.id}` })).json<{
      items: AnalysisSummary[];
    }>();
    expect(listed.items.map(({ number, voided: out }) => [number, out])).toEqual([
      [wrong.number, true],
      [good.number, false],
    ]);
    const history = await owner({ url: `/api/history/analysis/${wrong.id}` });
    expect(history.body).toContain('the bottle came from the tank beside it');
  });

  it('does not confirm the addition that it answered: that is asked for again', async () => {
    const of = await lab.equipLab(lena);
    const first = await lab.analyse(lena, of);
    const planned = await lab.plan(lena, of, first.id);
    const checker = { personId: lars.personId, pin: '4711' };
    const done = await lab.post<Addition>(
      lena,
      `/api/additions/${planned.id}/complete`,
      lab.asPlanned(planned, { checker }),
    );
    const confirming = await lab.analyse(lena, of, { factor: 1.03, why: 'after-addition' });
    expect((await lab.pageOf(lena, of.bath.id)).requests).toEqual([]);
    // Corrected before it is voided: what the first record answered is open again all the same.
    const corrected = await lab.post<Analysis>(lena, `/api/analyses/${confirming.id}/corrections`, {
      ...lab.titration(of, { factor: 1.031, why: 'after-addition' }),
      reason: 'second flask misread',
    });
    await voided(corrected.id);
    const page = await lab.pageOf(lena, of.bath.id);
    expect(page.requests).toMatchObject([{ why: 'after-addition', addition: { number: done.number } }]);
    expect(page.holds[0]?.confirmedBy).toBeNull();
  });

  it('starts no plan, and outdates a plan that was made from it', async () => {
    const of = await lab.equipLab(lena);
    const wrong = await lab.analyse(lena, of);
    const planned = await lab.plan(lena, of, wrong.id);
    await voided(wrong.id);
    const doing = await lena({
      method: 'POST',
      url: `/api/additions/${planned.id}/complete`,
      payload: lab.asPlanned(planned, { checker: { personId: lars.personId, pin: '4711' } }),
    });
    expect(doing.statusCode).toBe(412);
    await lab.post(lena, `/api/additions/${planned.id}/withdraw`, { reason: 'voided' });
    const { bath } = await lab.sheetOf(lena, of.bath.id);
    const again = await lena({
      method: 'POST',
      url: `/api/baths/${of.bath.id}/additions`,
      headers: { 'if-match': `"${bath.version}"` },
      payload: lab.raise(of, wrong.id),
    });
    expect(again.statusCode).toBe(422);
    expect(again.body).toContain('voided');
  });

  it('is voided once, with a reason, never while a correction stands in its place, and by no one without the lab', async () => {
    const of = await lab.equipLab(lena);
    const one = await lab.analyse(lena, of);
    expect((await voided(one.id, ' ')).statusCode).toBe(422);
    const operator = await as('operator');
    const other = await operator({
      method: 'POST',
      url: `/api/analyses/${one.id}/void`,
      payload: { reason: 'no' },
    });
    expect(other.statusCode).toBe(403);
    const corrected = await lab.post<Analysis>(lena, `/api/analyses/${one.id}/corrections`, {
      ...lab.titration(of, { factor: 1.01 }),
      reason: 'misread',
    });
    expect((await voided(one.id)).statusCode).toBe(409);
    expect((await voided(corrected.id)).statusCode).toBe(200);
    expect((await voided(corrected.id)).statusCode).toBe(409);
    await expect(
      db.prisma.analysis.update({
        where: { id: corrected.id },
        data: { voidedAt: null, voidedById: null, voidReason: null },
      }),
    ).rejects.toThrow();
  });
});
