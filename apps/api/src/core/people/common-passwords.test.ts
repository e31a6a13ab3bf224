import { dictionary } from '@zxcvbn-ts/language-common';
import { Password } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { testApp } from '../../../../../tests/support/app.ts';
import { addPersonWith, cookiesOf, signInAs } from '../../../../../tests/support/people.ts';
import { refuseCommonPassword } from './common-passwords.ts';

const current = 'seven grey herons';
const huelot = await testApp();

test('the commonest passwords were taken', async () => {
  await addPersonWith(huelot.db, { name: 'lena.vogt', password: current });
  const cookie = cookiesOf(await signInAs(huelot, { name: 'lena.vogt', password: current }));
  const change = (password: string) =>
    huelot.app.inject({
      method: 'PUT',
      url: '/api/me/password',
      headers: { cookie },
      payload: { current, password },
    });
  for (const password of [
    ...['1234567890', 'password123', 'Password123', 'qwertyuiop', 'football123', '1q2w3e4r5t', 'iloveyou123'],
    ...['Lena.Vogt2026!', 'huelot-2026', 'short7!'],
  ]) {
    const reply = await change(password);
    expect(reply.statusCode, password).toBe(422);
    expect(reply.json(), password).toMatchObject({ issues: [{ path: 'password' }] });
  }
  expect((await change('eightlng')).statusCode).toBe(200);
});

test('at least three thousand of the listed passwords are long enough to be refused for being common', async () => {
  const long = dictionary['passwords-common'].filter((password) => Password.safeParse(password).success);
  expect(long.length).toBeGreaterThan(3000);
  for (const password of long.slice(0, 3000))
    await expect(refuseCommonPassword(password, [])).rejects.toThrow();
});
