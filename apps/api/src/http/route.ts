import type { Endpoint } from '@huelot/contracts';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { z } from 'zod';
import type { Actor } from '../kernel/actor.ts';
import { asSearch } from '../db/searching.ts';
import { DomainError } from '../kernel/refusal.ts';
import { withIdempotency, digestOf, type Answer, type Key } from './once.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    endpoint?: Endpoint;
  }
}

/** What a handler is given, every part already parsed. */
export interface RouteContext<E extends Endpoint> {
  params: z.output<E['params']>;
  query: z.output<E['query']>;
  body: z.output<E['body']>;
  /** From `If-Match`; 0 on endpoints that are not versioned. */
  version: number;
  request: FastifyRequest;
  reply: FastifyReply;
}

type Reply<E extends Endpoint> = Promise<z.input<E['reply']>>;
type Handler<E extends Endpoint> = (call: RouteContext<E> & { actor: Actor }) => Reply<E>;

/**
 * Serves an endpoint to signed-in people who hold its permission.
 *
 * @example
 * registerRoute(app, getPart, ({ actor, params }) => readPart(app.db, params.id));
 */
export function registerRoute<E extends Endpoint>(
  app: FastifyInstance,
  endpoint: E,
  handle: Handler<E>,
): void {
  if (endpoint.access === 'anyone') throw new Error(`${endpoint.path} is open: use registerPublicRoute`);
  serve(app, endpoint, (call) => {
    if (call.request.actor === null) throw new DomainError('not-signed-in', 'Sign in first.');
    const { actor } = call.request;
    refuseUnproved(endpoint, actor);
    return handle({ ...call, actor });
  });
}

/**
 * Serves an endpoint to anybody, signed in or not.
 *
 * @example
 * registerPublicRoute(app, getSetUpState, () => readSetUpState(app.db));
 */
export function registerPublicRoute<E extends Endpoint>(
  app: FastifyInstance,
  endpoint: E,
  handle: (call: RouteContext<E>) => Reply<E>,
): void {
  if (endpoint.access !== 'anyone') throw new Error(`${endpoint.path} is not open: use registerRoute`);
  serve(app, endpoint, handle);
}

function serve<E extends Endpoint>(
  app: FastifyInstance,
  endpoint: E,
  handle: (call: RouteContext<E>) => Reply<E>,
): void {
  const hasBody = endpoint.method !== 'GET';
  app.route({
    method: endpoint.method,
    url: `/api${endpoint.path}`,
    ...(endpoint.maxBodyBytes === undefined ? {} : { bodyLimit: endpoint.maxBodyBytes }),
    config: {
      access: endpoint.access,
      endpoint,
      ...(endpoint.perMinute === undefined
        ? {}
        : { rateLimit: { max: endpoint.perMinute, timeWindow: '1 minute' } }),
    },
    schema: {
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
      // A shared tablet keeps nothing of what one person read; a handler may say otherwise.
      reply.code(endpoint.status).header('cache-control', 'no-store');
      const key = keyOf(request, endpoint);
      const work = async () =>
        handle({
          params: request.params as z.output<E['params']>,
          query: request.query as z.output<E['query']>,
          body: request.body as z.output<E['body']>,
          version: endpoint.versioned ? versionOf(request) : 0,
          request,
          reply,
        });
      if (key !== null)
        return sendKept(
          reply,
          await withIdempotency(app.db, key, async () => {
            const answer = await work();
            // JSON is serialised to text; the type allows for bytes too.
            return { status: reply.statusCode, body: reply.serialize(answer) as string };
          }),
        );
      const answer = await (isSearch(endpoint, request) ? asSearch(whenGone(reply), work) : work());
      giveVersion(reply, answer);
      return reply.send(answer);
    },
  });
}

/** A list that is asked for words is searched, whatever it is otherwise. */
const isSearch = ({ method, searches }: Endpoint, { query }: FastifyRequest): boolean =>
  method === 'GET' && (searches === true || Boolean((query as { search?: string }).search));

/** The signal that the connection has closed: whoever asked has the answer, or has left. */
function whenGone(reply: FastifyReply): AbortSignal {
  const gone = new AbortController();
  reply.raw.once('close', () => gone.abort());
  return gone.signal;
}

function giveVersion(reply: FastifyReply, answer: unknown): void {
  const { version } = answer as { version?: unknown };
  if (typeof version === 'number') reply.header('etag', `"${version}"`);
}

/** An answer to a write with a key, the first time and every time. */
function sendKept(reply: FastifyReply, { status, body }: Answer): FastifyReply {
  giveVersion(reply, JSON.parse(body));
  return reply
    .code(status)
    .type('application/json; charset=utf-8')
    .serializer((text: string) => text)
    .send(body);
}

function refuseUnproved({ proof }: Endpoint, { provedWith }: Actor): void {
  if (proof === 'signature' && !provedWith)
    throw new DomainError('prove-again', 'This is a signature: give your password, PIN or passkey again.');
  if (proof === 'account' && (!provedWith || provedWith === 'pin'))
    throw new DomainError(
      'prove-again',
      'This changes how you sign in: give your password or passkey again.',
    );
}

function versionOf(request: FastifyRequest): number {
  const given = request.headers['if-match'];
  const match = /^(?:W\/)?"(\d{1,9})"$/.exec(given ?? '');
  if (match === null) {
    throw new DomainError(
      'version-missing',
      `This edit must say which version it started from: If-Match: "3". Given: ${given ?? 'nothing'}.`,
    );
  }
  return Number(match[1]);
}

/** A key that would be ignored is refused: its sender relies on it when sending again. */
function keyOf(request: FastifyRequest, { keyless, method }: Endpoint): Key | null {
  const key = request.headers['idempotency-key'];
  if (key === undefined || method === 'GET') return null;
  if (keyless !== null || request.actor === null)
    throw new DomainError(
      'malformed-request',
      `Idempotency-Key is not honoured here. ${keyless ?? ''} Leave the key out.`,
    );
  if (typeof key !== 'string' || !/^[\w-]{8,100}$/.test(key)) {
    throw new DomainError(
      'malformed-request',
      'Idempotency-Key must be 8 to 100 letters, digits, dashes or underscores.',
    );
  }
  const { personId } = request.actor;
  return { personId, key, digest: isFile(request) ? null : digestOf(request) };
}

/** What comes as a file is read by whoever takes it, who binds the key to it. */
const isFile = ({ headers }: FastifyRequest) => /^multipart\//i.test(headers['content-type'] ?? '');
