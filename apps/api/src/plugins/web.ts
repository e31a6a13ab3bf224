import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import serveStatic from '@fastify/static';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';

export interface WebOptions {
  /** The built web app: index.html, hashed files below `_app/immutable`, compressed twins beside each. */
  folder: string;
}

const page = 'index.html';

/** Serves the built web app on everything but `/api`: its files, and its one page for every address people may visit. */
export default fp(
  async (app: FastifyInstance, { folder }: WebOptions) => {
    const file = path.join(folder, page);
    if (!existsSync(file))
      throw new Error(`The web app is not built: ${file} is missing. Run npm run build.`);
    const policy = contentSecurityPolicy(readFileSync(file, 'utf8'));

    await app.register(serveStatic, {
      root: folder,
      wildcard: false,
      index: false,
      preCompressed: true,
      cacheControl: false,
      globIgnore: [page, '**/*.br', '**/*.gz'],
      setHeaders: (reply, name) => {
        const isHashed = path.relative(folder, name).startsWith(path.join('_app', 'immutable'));
        reply.setHeader('cache-control', isHashed ? 'public, max-age=31536000, immutable' : 'no-cache');
        if (path.basename(name).startsWith(page)) reply.setHeader('content-security-policy', policy);
      },
    });
    // Whatever no route answers is an address inside the app, unless it asks for data or for a file.
    app.addHook('onRequest', (request, reply, next) => {
      if (isPage(request)) sendPage(reply);
      else next();
    });
  },
  { name: 'web', dependencies: ['errors'] },
);

function isPage(request: FastifyRequest): boolean {
  if (!request.is404 || (request.method !== 'GET' && request.method !== 'HEAD')) return false;
  const [address = ''] = request.url.split('?');
  if (/^\/(api|_app)(\/|$)/.test(address)) return false;
  return !path.posix.basename(address).includes('.');
}

const sendPage = (reply: FastifyReply) => reply.code(200).sendFile(page);

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
