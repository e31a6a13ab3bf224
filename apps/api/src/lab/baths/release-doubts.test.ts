import type { Addition, BathHold } from '@huelot/contracts';
import { expect, it } from 'vitest';
import { testApp } from '../../../../../tests/support/app.ts';
import * as lab from '../../../../../tests/support/lab.ts';

const { as, db } = await testApp();
const lena = await as('lab', 'planner');
const lars = await as('lab');
await lab.givePin(db, [lars.personId], '4711');

it('a bath of 40 to 95 °C was released at 5 °C, unmixed, by a sample of the same minute', async () => {
  const of = await lab.equipLab(lena);
  const planned = await lab.plan(lena, of, (await lab.analyse(lena, of)).id);
  const done = lab.asPlanned(planned, { checker: { personId: lars.personId, pin: '4711' } });
  await lab.post<Addition>(lena, `/api/additions/${planned.id}/complete`, done);
  const confirming = await lab.analyse(lena, of, { factor: 1.03, why: 'after-addition' });
  const [hold] = (await lab.pageOf(lena, of.bath.id)).holds;
  const release = (payload: object) =>
    lena({ method: 'POST', url: `/api/bath-holds/${hold?.id ?? 0}/release`, payload });
  const bare = { temperatureC: 5, mixedS: 0, analysisId: confirming.id, note: '' };

  const refused = await release(bare);
  expect(refused.statusCode).toBe(422);
  const [issue] = refused.json<{ issues: { path: string; message: string }[] }>().issues;
  expect(issue?.path).toBe('note');
  expect(issue?.message).toMatch(
    /5 °C is colder than the 40 °C.*mixed for 0 min.*sample was taken 0 min after/s,
  );
  expect((await release({ ...bare, temperatureC: 99, mixedS: 1800, analysisId: null })).body).toContain(
    'hotter than the 95 °C',
  );

  const released = await release({ ...bare, note: 'cold on purpose: the tank is being emptied' });
  expect(released.json<BathHold>().release).toMatchObject({
    note: 'cold on purpose: the tank is being emptied',
  });
});
