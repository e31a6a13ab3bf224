import { randomBytes } from 'node:crypto';
import { CalcError } from '@huelot/calc';
import { problemCodes, type FieldIssue, type Problem, type ProblemCode } from '@huelot/contracts';
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod';
import { databaseFault } from '../db/client.ts';
import { outageOf } from '../db/outage.ts';
import { DomainError } from '../kernel/refusal.ts';
import { outageWords } from './outage-words.ts';

const titles: Record<ProblemCode, string> = {
  'invalid-input': 'Something in the request is wrong',
  'malformed-request': 'The request cannot be read',
  'key-reused': 'The key was used before',
  'not-signed-in': 'Not signed in',
  'wrong-credentials': 'Name or password is wrong',
  'not-allowed': 'Not allowed',
  'prove-again': 'Give your credential again',
  'second-factor-missing': 'A second factor is needed',
  'cross-origin': 'The request came from another site',
  'not-found': 'Not found',
  'already-exists': 'There is one already',
  'in-use': 'It is in use',
  immutable: 'It is issued and cannot be changed',
  conflict: 'It conflicts with what is recorded',
  'in-progress': 'It is under way',
  'on-hold': 'The lot is on hold',
  'override-needed': 'The bath is stopped or overdue',
  'not-proved': 'The recipe is not proved for this part',
  'not-competent': 'Outside competence',
  'already-signed': 'The step is signed already',
  'other-person': 'Somebody else is signed in',
  'not-current': 'This traveler is not current',
  incompatible: 'The metal must not go there',
  'version-conflict': 'Changed in the meantime',
  'too-large': 'Too large',
  'unsupported-media-type': 'The wrong kind of content',
  'version-missing': 'The version is missing',
  'too-many-requests': 'Too many requests',
  internal: 'Something went wrong here',
  unavailable: 'The database is not available',
  busy: 'Too busy',
  'disk-full': 'The disk of the server is full',
};

/** After how long it is worth asking again: a restart of the database takes a few seconds. */
const RETRY_S = 5;

interface Fault {
  code: ProblemCode;
  detail: string;
  issues?: FieldIssue[] | undefined;
  current?: unknown;
}

/** One place that turns whatever was thrown into an answer: `application/problem+json` with a code from the one table. */
export default fp(
  (app: FastifyInstance) => {
    app.setErrorHandler((error: FastifyError, request, reply) => {
      const fault = faultOf(error);
      if (problemCodes[fault.code] >= 500) {
        const reference = randomBytes(6).toString('hex');
        request.log.error({ err: error, reference }, 'request failed');
        return sendProblem(reply, { ...fault, reference });
      }
      if (refusals.has(problemCodes[fault.code])) logRefusal(request, fault.code);
      return sendProblem(reply, fault);
    });
    app.setNotFoundHandler((request: FastifyRequest, reply: FastifyReply) =>
      sendProblem(reply, {
        code: 'not-found',
        detail: `There is nothing at ${request.method} ${request.url}.`,
      }),
    );
  },
  { name: 'errors' },
);

/** Not signed in or wrongly so, not allowed, too often: what somebody who tries doors runs into. */
const refusals: ReadonlySet<number> = new Set([401, 403, 429]);

const logRefusal = (request: FastifyRequest, code: ProblemCode) =>
  request.log.warn(
    {
      code,
      person: request.actor?.name ?? null,
      address: request.ip,
      route: `${request.method} ${request.routeOptions.url ?? 'none'}`,
    },
    'refused',
  );

/**
 * Answers with a problem.
 *
 * @example
 * sendProblem(reply, { code: 'not-found', detail: 'There is no part 12.' });
 */
export function sendProblem(reply: FastifyReply, fault: Fault & { reference?: string }): FastifyReply {
  const problem: Problem = {
    type: `urn:huelot:problem:${fault.code}`,
    title: titles[fault.code],
    status: problemCodes[fault.code],
    code: fault.code,
    detail: fault.detail,
    ...(fault.issues === undefined ? {} : { issues: fault.issues }),
    ...(fault.current === undefined ? {} : { current: fault.current }),
    ...(fault.reference === undefined ? {} : { reference: fault.reference }),
  };
  if (problem.status === 503) reply.header('retry-after', RETRY_S);
  if (problem.code === 'in-progress') reply.header('retry-after', 1);
  return reply
    .code(problem.status)
    .type('application/problem+json')
    .serializer((value: unknown) => JSON.stringify(value))
    .send(problem);
}

function faultOf(error: FastifyError): Fault {
  if (error instanceof DomainError) {
    return { code: error.code, detail: error.message, issues: error.issues, current: error.current };
  }
  const caught: unknown = error;
  if (caught instanceof CalcError) {
    const { path, rule } = caught;
    return { code: 'invalid-input', detail: caught.sentence, issues: [{ path, message: rule }] };
  }
  if (hasZodFastifySchemaValidationErrors(error)) {
    const issues = error.validation.map(({ instancePath, message }) => ({
      path: instancePath.replace(/^\//, '').replaceAll('/', '.'),
      message: message ?? 'is not allowed',
    }));
    const detail = issues
      .map(({ path, message }) => (path === '' ? message : `${path}: ${message}`))
      .join('; ');
    return { code: 'invalid-input', detail, issues };
  }
  return databaseRefusal(error) ?? frameworkRefusal(error);
}

function databaseRefusal(error: unknown): Fault | null {
  const outage = outageOf(error);
  if (outage !== null) {
    const { code, matter, advice } = outageWords[outage];
    return { code, detail: `${matter} ${advice}` };
  }
  const fault = databaseFault(error);
  if (fault === null) return null;
  const { code, message } = fault;
  if (code === 'HU001') return { code: 'immutable', detail: sentence(message) };
  if (code === 'HU002') return { code: 'not-current', detail: sentence(message) };
  if (code === '23505' || code === 'P2002') {
    return { code: 'already-exists', detail: 'There is one with that name or number already.' };
  }
  if (code === '23503' || code === 'P2003' || code === 'P2025') {
    return {
      code: 'conflict',
      detail: 'It refers to something that does not exist, or something still refers to it.',
    };
  }
  if (code === '23514' || code.startsWith('22')) {
    return { code: 'invalid-input', detail: 'A value is outside what can be stored.' };
  }
  if (code === '40001' || code === '40P01' || code === 'P2034') {
    return { code: 'conflict', detail: 'Somebody else changed the same thing at that moment. Try again.' };
  }
  return null;
}

function frameworkRefusal(error: FastifyError): Fault {
  const status = error.statusCode ?? 500;
  if (status === 413) return { code: 'too-large', detail: error.message };
  if (status === 415) return { code: 'unsupported-media-type', detail: error.message };
  if (status === 429) return { code: 'too-many-requests', detail: error.message };
  if (status === 404) return { code: 'not-found', detail: error.message };
  if (status >= 400 && status < 500) return { code: 'malformed-request', detail: error.message };
  return {
    code: 'internal',
    detail:
      'Something went wrong on the server and nothing was saved. Give the reference to whoever runs it.',
  };
}

const sentence = (message: string) => `${message.charAt(0).toUpperCase()}${message.slice(1)}.`;
