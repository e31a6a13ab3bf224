import { createHash } from 'node:crypto';
import type { Endpoint } from '@huelot/contracts';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { z } from 'zod';
import type { Actor } from '../actor.ts';
import { Refusal } from '../refusal.ts';

/** Names one write for ever: the same key with the same words is the same write. */
export interface OnceKey {
  key: string;
  requestHash: Buffer;
}

/** What a handler is given, every part already parsed. */
export interface Call<E extends Endpoint> {
  params: z.output<E['params']>;
  query: z.output<E['query']>;
  body: z.output<E['body']>;
  /** From `If-Match`; 0 on endpoints that are not versioned. */
  version: number;
  /** From `Idempotency-Key`, on endpoints that take one. */
  once: OnceKey | null;
  request: FastifyRequest;
  reply: FastifyReply;
}

type Answer<E extends Endpoint> = Promise<z.input<E['reply']>>;
type Handle<E extends Endpoint> = (call: Call<E> & { actor: Actor }) => Answer<E>;

/**
 * Serves an endpoint to signed-in people who hold its permission.
 *
 * @example
 * mount(app, getPart, ({ actor, params }) => readPart(app.db, params.id));
 */
export function mount<E extends Endpoint>(app: FastifyInstance, endpoint: E, handle: Handle<E>): void {
  if (endpoint.access === 'anyone') throw new Error(`${endpoint.path} is open: use mountOpen`);
  serve(app, endpoint, (call) => {
    if (call.request.actor === null) throw new Refusal('not-signed-in', 'Sign in first.');
    return handle({ ...call, actor: call.request.actor });
  });
}

/**
 * Serves an endpoint to anybody, signed in or not.
 *
 * @example
 * mountOpen(app, getSetUpState, () => readSetUpState(app.db));
 */
export function mountOpen<E extends Endpoint>(
  app: FastifyInstance,
  endpoint: E,
  handle: (call: Call<E>) => Answer<E>,
): void {
  if (endpoint.access !== 'anyone') throw new Error(`${endpoint.path} is not open: use mount`);
  serve(app, endpoint, handle);
}

function serve<E extends Endpoint>(
  app: FastifyInstance,
  endpoint: E,
  handle: (call: Call<E>) => Answer<E>,
): void {
  const hasBody = endpoint.method !== 'GET';
  app.route({
    method: endpoint.method,
    url: `/api${endpoint.path}`,
    config: { access: endpoint.access },
    schema: {
      summary: endpoint.summary,
      tags: [endpoint.path.split('/')[1] ?? 'other'],
      params: endpoint.params,
      querystring: endpoint.query,
      ...(hasBody ? { body: endpoint.body } : {}),
      response: { [endpoint.status]: endpoint.reply },
    },
    // A write that says nothing may be sent without a body.
    ...(hasBody
      ? {
          preValidation: (request: FastifyRequest, _reply: FastifyReply, done: () => void) => {
            request.body ??= {};
            done();
          },
        }
      : {}),
    handler: async (request, reply) => {
      const answer = await handle({
        params: request.params as z.output<E['params']>,
        query: request.query as z.output<E['query']>,
        body: request.body as z.output<E['body']>,
        version: endpoint.versioned ? versionOf(request) : 0,
        once: endpoint.idempotent ? onceKeyOf(request) : null,
        request,
        reply,
      });
      const version = (answer as { version?: unknown }).version;
      if (typeof version === 'number') reply.header('etag', `"${version}"`);
      return reply.code(endpoint.status).send(answer);
    },
  });
}

function versionOf(request: FastifyRequest): number {
  const given = request.headers['if-match'];
  const match = /^(?:W\/)?"(\d{1,9})"$/.exec(given ?? '');
  if (match === null) {
    throw new Refusal(
      'version-missing',
      `This edit must say which version it started from: If-Match: "3". Given: ${given ?? 'nothing'}.`,
    );
  }
  return Number(match[1]);
}

function onceKeyOf(request: FastifyRequest): OnceKey | null {
  const key = request.headers['idempotency-key'];
  if (key === undefined) return null;
  if (typeof key !== 'string' || !/^[\w-]{8,100}$/.test(key)) {
    throw new Refusal(
      'malformed-request',
      'Idempotency-Key must be 8 to 100 letters, digits, dashes or underscores.',
    );
  }
  const words = `${request.method} ${request.url} ${JSON.stringify(request.body ?? null)}`;
  return { key, requestHash: createHash('sha256').update(words).digest() };
}
