import { expect, test } from 'vitest';
import { testApp } from '../../../../tests/support/app.ts';
import { addPersonWith, signInAs } from '../../../../tests/support/people.ts';

const password = 'seven grey herons';
const overTls = await testApp({ publicUrl: 'https://huelot.example.org' });
const plain = await testApp();

test('the cookie of a sign-in could be read by scripts, sent by other sites or travel without TLS', async () => {
  await addPersonWith(overTls.db, { name: 'tls', password });
  const { cookies } = await signInAs(overTls, { name: 'tls', password });
  expect(cookies.find(({ name }) => name === '__Host-huelot')).toMatchObject({
    httpOnly: true,
    sameSite: 'Lax',
    secure: true,
    path: '/',
  });
  for (const cookie of cookies) {
    expect(cookie, cookie.name).toMatchObject({ sameSite: 'Lax', secure: true });
    expect(cookie['domain'], cookie.name).toBeUndefined();
  }
  await addPersonWith(plain.db, { name: 'plain', password });
  const own = await signInAs(plain, { name: 'plain', password });
  expect(own.cookies.find(({ name }) => name === 'huelot')).toMatchObject({
    httpOnly: true,
    sameSite: 'Lax',
  });
});

test.each(['/api/health', '/api/me', '/api/nothing'])(
  'the answer of %s let a browser guess its kind, or forget TLS',
  async (url) => {
    const { headers } = await overTls.app.inject({ url });
    expect(headers['x-content-type-options']).toBe('nosniff');
    const seconds = /max-age=(\d+)/.exec(String(headers['strict-transport-security']))?.[1];
    expect(Number(seconds)).toBeGreaterThanOrEqual(31_536_000);
    expect((await plain.app.inject({ url })).headers['strict-transport-security']).toBeUndefined();
  },
);

test.each([
  { origin: 'https://evil.example' },
  { origin: 'null' },
  { 'sec-fetch-site': 'cross-site' },
  { 'sec-fetch-site': 'same-site' },
])('a write from another site, %j, was carried out', async (headers: Record<string, string>) => {
  const estimator = await plain.as('estimator');
  const before = await plain.db.prisma.person.findUniqueOrThrow({ where: { id: estimator.personId } });
  for (const url of [
    '/api/me/preferences',
    '/%61pi/me/preferences',
    'http://localhost:4070/api/me/preferences',
  ]) {
    const answer = await estimator({
      method: 'PUT',
      url,
      headers,
      payload: { units: 'us', theme: 'dark' },
    });
    expect(answer.statusCode, url).toBe(403);
    expect(answer.json(), url).toMatchObject({ code: 'cross-origin' });
  }
  expect(await plain.db.prisma.person.findUniqueOrThrow({ where: { id: estimator.personId } })).toEqual(
    before,
  );
});
