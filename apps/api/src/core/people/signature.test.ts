import * as contracts from '@huelot/contracts';
import { expect, test } from 'vitest';
import { proveRevision } from '../../../../../tests/support/evidence.ts';
import { testApp } from '../../../../../tests/support/app.ts';
import { equipShop } from '../../../../../tests/support/shop.ts';
import { addPersonWith, cookiesOf, signInAs } from '../../../../../tests/support/people.ts';

const password = 'seven grey herons';
const huelot = await testApp();
const { app, db } = huelot;

test('a release or an approval was signed on a screen that somebody left open', async () => {
  const shop = await equipShop(db);
  const quality = await addPersonWith(db, { name: 'quality', password, pin: '4711', roles: ['quality'] });
  const cookie = cookiesOf(await signInAs(huelot, { name: 'quality', password }));
  const estimator = await huelot.as('estimator');
  const drafted = await estimator({
    method: 'POST',
    url: `/api/recipe-revisions/${shop.recipeRevisionId}/draft`,
    payload: {},
  });
  const draft = drafted.json<{ id: number; version: number }>();
  await proveRevision(db, { revisionId: draft.id });
  const ask = (url: string, payload: object, method: 'POST' | 'PUT' = 'POST') =>
    app.inject({ method, url, payload, headers: { cookie, 'if-match': `"${draft.version}"` } });
  const approve = () => ask(`/api/recipe-revisions/${draft.id}/approve`, {});

  expect((await approve()).json()).toMatchObject({ code: 'prove-again' });
  const wrong = await ask('/api/me/proof', { kind: 'pin', secret: '0000' });
  expect(wrong.json()).toMatchObject({ issues: [{ path: 'secret', message: 'is not your PIN' }] });
  expect((await approve()).statusCode).toBe(403);
  expect((await ask('/api/me/proof', { kind: 'pin', secret: '4711' })).statusCode).toBe(200);
  const elsewhere = cookiesOf(await signInAs(huelot, { name: 'quality', password }));
  const other = await app.inject({
    method: 'POST',
    url: `/api/recipe-revisions/${draft.id}/approve`,
    payload: {},
    headers: { cookie: elsewhere, 'if-match': `"${draft.version}"` },
  });
  expect(other.json(), 'a proof counts on the screen it was given on').toMatchObject({ code: 'prove-again' });

  await db.pool.query(`update sign_in set "provedAt" = now() - interval '5 minutes 1 second'`);
  expect((await approve()).json(), 'a proof of long ago').toMatchObject({ code: 'prove-again' });
  expect((await ask('/api/me/proof', { kind: 'password', secret: password })).statusCode).toBe(200);
  expect((await approve()).statusCode).toBe(200);

  const entry = await db.prisma.auditEntry.findFirstOrThrow({
    where: { personId: quality.id, action: { startsWith: 'approved revision' } },
  });
  expect(entry).toMatchObject({
    personName: 'quality',
    changes: [{ field: 'signature', new: 'approved by quality, with the password given again' }],
  });
});

test('what is a signature is said in the contract of each', () => {
  const signing = Object.values(contracts).flatMap((value) =>
    typeof value === 'object' && 'proof' in value && value.proof === 'signature' ? [value.path] : [],
  );
  expect(signing.toSorted()).toEqual([
    '/approval-rules',
    '/calibrations/:id/approve',
    '/certificates/:id/withdrawal',
    '/colour-standard-revisions/:id/approve',
    '/colour-standard-revisions/:id/confirm',
    '/coupon-series/:id/approve',
    '/impact-assessments/:id/close',
    '/impact-assessments/:id/letters',
    '/invoices/:id/credit-notes',
    '/invoices/:id/issue',
    '/lots/:id/final-check',
    '/lots/:id/first-article',
    '/lots/:id/inspection',
    '/nonconformances/:id/close',
    '/nonconformances/:id/dispositions',
    '/nonconformances/:id/reopen',
    '/parts/:id/inspection-plan',
    '/parts/:id/inspection-plan/resume',
    '/recipe-revisions/:id/approve',
    '/shipments/:id/certificates',
  ]);
});
