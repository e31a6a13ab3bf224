import type { AuditEntry, Material } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { testApp } from '../../../../../tests/support/app.ts';
import { issueFirstAdminCode } from '../../core/people/index.ts';

const shop = {
  name: 'olive',
  displayName: 'Olive',
  password: 'correct horse battery staple',
  shopName: 'Shop',
  timeZone: 'Europe/Vienna',
  currency: 'EUR',
};

test('the first owner opens a shop that knows the usual materials; nobody else opens it again', async () => {
  const { app, db } = await testApp();
  const open = (payload: object) => app.inject({ method: 'POST', url: '/api/first-admin', payload });
  const materials = () => db.prisma.material.count();
  const code = await issueFirstAdminCode(db);

  expect((await open({ ...shop, code: 'a guess' })).json()).toMatchObject({
    code: 'wrong-credentials',
    issues: [{ path: 'code' }],
  });
  expect(await materials()).toBe(0);

  const opened = await open({ ...shop, code });
  expect(opened.statusCode, opened.body).toBe(201);
  expect(opened.json()).toMatchObject({
    person: { name: 'olive', roles: ['owner'] },
    shop: { name: 'Shop' },
  });
  const { name, value } = opened.cookies[0] ?? { name: '', value: '' };
  const ask = (url: string, method: 'GET' | 'POST' = 'GET') =>
    app.inject({ method, url, headers: { cookie: `${name}=${value}` } });
  const { items } = (await ask('/api/materials?limit=200')).json<{ items: Material[] }>();
  expect(items).not.toHaveLength(0);
  expect((await ask('/api/materials/starting-library', 'POST')).json()).toEqual({ added: 0 });
  const history = (await ask(`/api/history/material/${items[0]?.id}`)).json<{ items: AuditEntry[] }>();
  expect(history.items).toMatchObject([{ personName: 'Olive', action: 'added from the starting library' }]);

  expect(await issueFirstAdminCode(db)).toBeNull();
  expect((await open({ ...shop, name: 'late', code })).statusCode).toBe(401);
  expect(await materials()).toBe(items.length);
});
