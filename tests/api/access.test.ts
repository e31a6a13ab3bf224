import { permissions, readDescription, Role } from '@huelot/contracts';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.ts';
import { addressOf, describedStatuses, endpoints } from '../support/endpoints.ts';
import { rawRequests, type RawRequest } from '../support/raw-request.ts';
import { whoMay } from '../support/who-may.ts';

const { app, as } = await testApp();
let send: Awaited<ReturnType<typeof rawRequests>>;
const cookies = new Map<Role, string>();
beforeAll(async () => {
  for (const role of Role.options) cookies.set(role, (await as(role)).cookie);
  send = await rawRequests(app);
});

let cells = 0;
afterAll(() => console.log(`access: ${cells} cells asked`));

/** Each of the `served` forms is the same route; the `other` forms are not, and whatever they are shows nothing. */
const forms: Record<'served' | 'other', Record<string, (address: string) => string>> = {
  served: {
    plain: (address) => address,
    'one letter encoded': (address) => address.replace('/api', '/%61pi'),
    'every letter encoded': (address) => address.replaceAll(/[a-z]/g, encoded),
    'absolute form': (address) => `http://localhost:4070${address}`,
    'absolute form, encoded': (address) => `http://localhost:4070${address.replace('/api', '/%61%70i')}`,
  },
  other: {
    'slash doubled in front': (address) => `/${address}`,
    'slash doubled inside': (address) => address.replace('/api/', '/api//'),
    'slash encoded': (address) => address.replace('/api/', '/api%2f'),
    'upper case': (address) => address.replace('/api', '/API'),
    'slash at the end': (address) => `${address}/`,
    'dot segment': (address) => address.replace('/api/', '/api/./'),
  },
};
function encoded(letter: string): string {
  return `%${letter.charCodeAt(0).toString(16)}`;
}

/** These end the sign-in that asks, so each request is sent by somebody of their own. */
const endsTheSignIn = (path: string) => path.startsWith('/sign-out') || path.startsWith('/me/sign-ins');

/** Said to those alone who may: they give their credential again first. */
const takesProof = (body: string) => body.includes('"code":"prove-again"');

const doors = [
  ...endpoints.map(([name, endpoint]) => {
    const { method, access, path } = endpoint;
    return {
      name,
      method,
      access,
      path,
      address: addressOf(endpoint),
      described: describedStatuses(endpoint),
    };
  }),
  ...['', '/', '/static/index.html', '/static/swagger-ui.css'].map((below) => ({
    name: `readDescription${below}`,
    method: 'GET',
    access: readDescription.access,
    path: readDescription.path,
    address: `/api${readDescription.path}${below}`,
    described: null,
  })),
];

test('the table of permissions is the one that was agreed', () => {
  expect(Object.fromEntries(whoMay)).toEqual(
    Object.fromEntries(
      Object.entries(permissions).map(([permission, roles]) => [
        permission,
        Role.options.filter((role) => (roles as readonly Role[]).includes(role)),
      ]),
    ),
  );
});

test('every route under /api is a contract, and every contract is served', () => {
  const inContracts = new Set(endpoints.map(([, { method, path }]) => `${method} /api${path}`));
  const served = Object.entries(app.swagger().paths ?? {}).flatMap(([path, methods]) =>
    Object.keys(methods as object).map(
      (method) => `${method.toUpperCase()} ${path.replaceAll(/\{(\w+)\}/g, ':$1')}`,
    ),
  );
  expect(served.filter((route) => !inContracts.has(route))).toEqual([]);
  expect(served.length).toBe(inContracts.size);
  const missing = endpoints.filter(([, { path, method }]) => !app.hasRoute({ method, url: `/api${path}` }));
  expect(missing.map(([name]) => name)).toEqual([]);
});

test('a service with a route that names nobody does not start', async () => {
  const forgetful = testApp({ extra: (bare) => bare.get('/api/forgotten', () => 'secret') });
  await expect(forgetful).rejects.toThrow(/do not say who may call them: GET \/api\/forgotten/);
});

describe.each(doors)('$name', ({ method, access, path, address, described }) => {
  const body = method === 'GET' ? {} : { body: '{}', headers: { 'content-type': 'application/json' } };

  async function ask(role: Role | null, request: RawRequest) {
    cells += 1;
    const cookie =
      role === null ? {} : { cookie: endsTheSignIn(path) ? (await as(role)).cookie : cookies.get(role) };
    return send({ ...request, headers: { ...request.headers, ...cookie } as Record<string, string> });
  }

  test.each([null, ...Role.options])('%s', async (role) => {
    const allowed =
      access === 'anyone' ||
      (role !== null && (access === 'signed-in' || whoMay.get(access)?.includes(role) === true));
    for (const [form, write] of Object.entries(forms.served)) {
      for (const asked of method === 'GET' ? ['GET', 'HEAD'] : [method]) {
        const reply = await ask(role, { method: asked, target: write(address), ...body });
        const cell = `${form}, ${asked}: ${reply.body}`;
        if (!allowed) expect(reply.status, cell).toBe(role === null ? 401 : 403);
        else if (path.startsWith('/history/')) expect([200, 403], cell).toContain(reply.status);
        else if (access !== 'anyone' && !takesProof(reply.body))
          expect([401, 403], cell).not.toContain(reply.status);
        expect(reply.status, cell).toBeLessThan(500);
        if (described !== null) expect(described, cell).toContain(reply.status);
      }
    }
    for (const [form, write] of Object.entries(forms.other)) {
      const target = write(address);
      // The page of the description has an address of its own with a slash at the end.
      if (doors.some((door) => door.address === target)) continue;
      const reply = await ask(role, { method, target, ...body });
      // `/parts/` is a part without a number: refused by that route's own rule.
      expect([400, 401, 403, 404, 422], `${form}: ${reply.body}`).toContain(reply.status);
    }
    for (const header of ['x-http-method-override', 'x-method-override', 'x-http-method']) {
      if (doors.some((door) => door.address === address && door.method === 'POST')) continue;
      const reply = await ask(role, { method: 'POST', target: address, headers: { [header]: method } });
      expect(reply.status, `${header}: ${reply.body}`).toBe(404);
    }
  });
});
