import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import serveStatic, { type FastifyStaticOptions } from '@fastify/static';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import { pageStarts } from './pages.ts';

export interface WebOptions {
  /** The built web app: index.html, hashed files below `_app/immutable`, compressed twins beside each. */
  folder: string;
}

const page = 'index.html';

/** Serves the built web app: its files, and its one page for every address people may visit. */
export default fp(
  async (app: FastifyInstance, { folder }: WebOptions) => {
    const file = path.join(folder, page);
    if (!existsSync(file))
      throw new Error(`The web app is not built: ${file} is missing. Run npm run build.`);
    const policy = contentSecurityPolicy(readFileSync(file, 'utf8'));

    const sent: FastifyStaticOptions = {
      root: folder,
      index: false,
      preCompressed: true,
      cacheControl: false,
      setHeaders: (reply, name) => {
        const isHashed = path.relative(folder, name).startsWith(path.join('_app', 'immutable'));
        reply.setHeader('cache-control', isHashed ? 'public, max-age=31536000, immutable' : 'no-cache');
        if (path.basename(name).startsWith(page)) reply.setHeader('content-security-policy', policy);
      },
    };
    await app.register(serveStatic, { ...sent, serve: false });
    await app.register(async (files) => {
      // Anybody may load the app itself; what it shows it asks the API for.
      files.addHook('onRoute', (route) => {
        route.config = { ...route.config, access: 'anyone', appFile: true };
      });
      await files.register(serveStatic, {
        ...sent,
        wildcard: false,
        globIgnore: [page, '**/*.br', '**/*.gz'],
        decorateReply: false,
      });
    });
    // Whatever no route answers may be a page of the app. A person who mistypes is told so on the app's own page.
    app.addHook('onRequest', (request, reply, next) => {
      if (isPage(request)) sendPage(reply.code(200));
      else if (isLostPerson(request)) sendPage(reply.code(404));
      else next();
    });
  },
  { name: 'web', dependencies: ['errors'] },
);

const addressOf = ({ url }: FastifyRequest) => url.split('?')[0] ?? '';

const isRead = (request: FastifyRequest) =>
  request.is404 && (request.method === 'GET' || request.method === 'HEAD');

function isPage(request: FastifyRequest): boolean {
  const address = addressOf(request);
  const [, start = '', ...below] = address.split('/');
  if (start === '' && below.length > 0) return false;
  return isRead(request) && pageStarts.has(start) && !path.posix.basename(address).includes('.');
}

/** Machines ask for data or for anything; only a browser that opens an address asks for a page by name. */
const isLostPerson = (request: FastifyRequest) =>
  isRead(request) &&
  !/^\/+(api|_app)(\/|$)/i.test(addressOf(request)) &&
  (request.headers.accept ?? '').includes('text/html');

const sendPage = (reply: FastifyReply) => reply.sendFile(page);

/** Only our own scripts run: the files, and the inline ones of the page by their hashes. Nobody may frame the app. */
function contentSecurityPolicy(html: string): string {
  const inline = [...html.matchAll(/<script(?![^>]*\ssrc=)[^>]*>([^]*?)<\/script>/g)].map(
    ([, code = '']) => code,
  );
  const hashes = inline.map((code) => `'sha256-${createHash('sha256').update(code).digest('base64')}'`);
  return [
    "default-src 'self'",
    ["script-src 'self'", ...hashes].join(' '),
    // Charts and rulers place things by style attributes.
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "connect-src 'self'",
    "worker-src 'self'",
    "form-action 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "frame-ancestors 'none'",
  ].join('; ');
}
