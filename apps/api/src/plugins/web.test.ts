import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { brotliCompressSync, brotliDecompressSync } from 'node:zlib';
import Fastify, { type FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { root } from '../process/root.ts';
import errors from './errors.ts';
import { pageStarts } from './pages.ts';
import web from './web.ts';

const inline = "console.log('start')";
const html = `<!doctype html><script src="/theme.js"></script><body><script>${inline}</script></body>`;
let folder: string;
let app: FastifyInstance;

beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'huelot-web-'));
  mkdirSync(path.join(folder, '_app/immutable'), { recursive: true });
  const put = (name: string, text: string) => {
    writeFileSync(path.join(folder, name), text);
    writeFileSync(path.join(folder, `${name}.br`), brotliCompressSync(text));
  };
  put('index.html', html);
  put('theme.js', '1;');
  put('_app/immutable/a.Xy12.js', '2;');
  app = Fastify();
  await app.register(errors);
  app.get('/api/there', () => ({ here: true }));
  await app.register(web, { folder });
});
afterAll(async () => {
  await app.close();
  rmSync(folder, { recursive: true });
});

describe('the page', () => {
  test.each(['/', '/quotations', '/lots/12?tab=steps', '/trace/', '/sign-in?next=/lots/3.5'])(
    'answers %s',
    async (url) => {
      const answer = await app.inject({ url });
      expect(answer.statusCode).toBe(200);
      expect(answer.body).toBe(html);
      expect(answer.headers['content-type']).toMatch(/^text\/html/);
      expect(answer.headers['cache-control']).toBe('no-cache');
    },
  );
  test('lets only its own scripts run, the inline one by its hash', async () => {
    const { headers } = await app.inject('/');
    // printf "console.log('start')" | openssl dgst -sha256 -binary | base64
    expect(headers['content-security-policy']).toContain(
      "script-src 'self' 'sha256-L2EbQf7/PA0U7AsEl3RsEdHw5s9/tUuGRl6llTOB6As=';",
    );
    for (const rule of ["object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'"]) {
      expect(headers['content-security-policy']).toContain(rule);
    }
  });
  test('comes compressed to who can read that, and is not sent again when unchanged', async () => {
    const answer = await app.inject({ url: '/', headers: { 'accept-encoding': 'br' } });
    expect(answer.headers['content-encoding']).toBe('br');
    expect(brotliDecompressSync(answer.rawPayload).toString()).toBe(html);
    expect(answer.headers['content-security-policy']).toBeDefined();
    const again = await app.inject({
      url: '/',
      headers: { 'if-none-match': (await app.inject('/')).headers.etag },
    });
    expect(again.statusCode).toBe(304);
  });
});

describe('an address that is no page', () => {
  const machines = [
    '/metrics',
    '/healthz',
    '/readyz',
    '/livez',
    '/nothing/here',
    '//api/parts',
    '/API/parts',
  ];
  test.each([...machines, '//', '/../metrics', '/Quotations'])(
    'a machine that asks for %s is not told that all is well',
    async (url) => {
      for (const method of ['GET', 'HEAD'] as const) {
        for (const accept of ['*/*', 'application/json', 'text/plain']) {
          const answer = await app.inject({ method, url, headers: { accept } });
          expect([answer.statusCode, answer.headers['content-type']]).toEqual([
            404,
            'application/problem+json',
          ]);
        }
      }
    },
  );
  test('a person who mistypes sees the page, which says that nothing is there', async () => {
    const answer = await app.inject({
      url: '/quotatoins',
      headers: { accept: 'text/html,application/xhtml+xml,*/*;q=0.8' },
    });
    expect([answer.statusCode, answer.body]).toEqual([404, html]);
  });
  test('every page there is can be opened by its address', () => {
    const routes = path.join(root, 'apps', 'web', 'src', 'routes');
    const starts = [routes, path.join(routes, '(signed-in)')].flatMap((place) =>
      readdirSync(place, { withFileTypes: true }).filter(
        (entry) => entry.isDirectory() && !entry.name.startsWith('('),
      ),
    );
    expect([...pageStarts].sort()).toEqual(['', ...starts.map(({ name }) => name)].sort());
  });
});

describe('files', () => {
  test('with a hash in their name are kept for a year, others are asked for again', async () => {
    const hashed = await app.inject('/_app/immutable/a.Xy12.js');
    expect([hashed.body, hashed.headers['cache-control']]).toEqual([
      '2;',
      'public, max-age=31536000, immutable',
    ]);
    const plain = await app.inject('/theme.js');
    expect([plain.body, plain.headers['cache-control']]).toEqual(['1;', 'no-cache']);
  });
  test.each([
    '/_app/immutable/gone.js',
    '/nothing.png',
    '/../package.json',
    '/%2e%2e/package.json',
    '/_app/x',
  ])('%s that is not there is not answered with the page', async (url) => {
    const answer = await app.inject({ url });
    expect(answer.statusCode).toBe(404);
    expect(answer.headers['content-type']).toMatch(/^application\/problem\+json/);
  });
});

describe('the API', () => {
  test('is left alone', async () => {
    expect((await app.inject('/api/there')).json()).toEqual({ here: true });
  });
  test.each([
    ['GET', '/api/nothing'],
    ['GET', '/api'],
    ['POST', '/quotations'],
    ['DELETE', '/'],
  ] as const)('%s %s is not answered with the page', async (method, url) => {
    const answer = await app.inject({ method, url });
    expect(answer.statusCode).toBe(404);
    expect(answer.headers['content-type']).toMatch(/^application\/problem\+json/);
  });
});

test('a web app that is not built is told at the start', async () => {
  const bare = Fastify();
  await bare.register(errors);
  await expect(bare.register(web, { folder: path.join(folder, 'none') })).rejects.toThrow(
    /not built.*npm run build/,
  );
});
