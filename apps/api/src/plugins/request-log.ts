import { randomUUID } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';

/** Somebody else's number for the request, such as a proxy's: short, and without anything a log could misread. */
const foreignId = /^[\w.:/+=-]{1,100}$/;

/** The number of a request in log and answer: the one it came with, if that can be one, or a new one. */
export function requestId({ headers }: Pick<IncomingMessage, 'headers'>): string {
  const id = headers['x-request-id'];
  return typeof id === 'string' && foreignId.test(id) ? id : randomUUID();
}

/** Links of invitations, resets and calendars carry 43 letters that open something, however they are escaped. */
const secret = /[\w%-]{32,}/g;

/**
 * An address as it may stand in a log.
 *
 * @example
 * withoutSecrets('/api/calendar/Zk3...43 letters') // '/api/calendar/[hidden]'
 */
export const withoutSecrets = (address: string): string => address.replaceAll(secret, '[hidden]');

/** How a request is written in the log. */
export const requestInLog = (request: FastifyRequest) => ({
  method: request.method,
  url: withoutSecrets(request.url),
  address: request.ip,
});

/** Answers with the number under which the request stands in the log. */
export default fp(
  (app: FastifyInstance, _options, done) => {
    app.addHook('onRequest', (request, reply, next) => {
      reply.header('x-request-id', request.id);
      next();
    });
    done();
  },
  { name: 'request-log' },
);
