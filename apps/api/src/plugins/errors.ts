import { randomBytes } from 'node:crypto';
import { CalcError } from '@huelot/calc';
import { problemCodes, type Issue, type Problem, type ProblemCode } from '@huelot/contracts';
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod';
import { databaseFault } from '../db/client.ts';
import { Refusal } from '../refusal.ts';

const titles: Record<ProblemCode, string> = {
  'invalid-input': 'Something in the request is not right',
  'malformed-request': 'The request cannot be read',
  'not-signed-in': 'Not signed in',
  'wrong-credentials': 'Name or password is wrong',
  'not-allowed': 'Not allowed',
  'foreign-origin': 'The request came from another site',
  'not-found': 'Not found',
  'already-exists': 'There is one already',
  'in-use': 'It is in use',
  frozen: 'It is issued and cannot be changed',
  conflict: 'It does not fit what is recorded',
  'on-hold': 'The lot is on hold',
  'override-needed': 'The bath is stopped or overdue',
  'already-signed': 'The step is signed already',
  'not-current': 'This traveler is not current',
  incompatible: 'The metal must not go there',
  'changed-meanwhile': 'Changed meanwhile',
  'too-large': 'Too large',
  'wrong-kind': 'The wrong kind of content',
  'version-missing': 'The version is missing',
  'too-many-requests': 'Too many requests',
  internal: 'Something went wrong here',
  unavailable: 'The database cannot be reached',
};

interface Fault {
  code: ProblemCode;
  detail: string;
  issues?: Issue[] | undefined;
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
  return reply
    .code(problem.status)
    .type('application/problem+json')
    .serializer((value: unknown) => JSON.stringify(value))
    .send(problem);
}

function faultOf(error: FastifyError): Fault {
  if (error instanceof Refusal) {
    return { code: error.code, detail: error.message, issues: error.issues, current: error.current };
  }
  const caught: unknown = error;
  if (caught instanceof CalcError) {
    const message = `is ${String(caught.given)}; allowed: ${caught.allowed}`;
    return { code: 'invalid-input', detail: caught.message, issues: [{ path: caught.argument, message }] };
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
  const fault = databaseFault(error);
  if (fault === null) return networkRefusal(error);
  const { code, message } = fault;
  if (code === 'HU001') return { code: 'frozen', detail: sentence(message) };
  if (code === 'HU002') return { code: 'not-current', detail: sentence(message) };
  if (code === '23505' || code === 'P2002') {
    return { code: 'already-exists', detail: 'There is one with that name or number already.' };
  }
  if (code === '23503' || code === 'P2003' || code === 'P2025') {
    return {
      code: 'conflict',
      detail: 'It refers to something that is not there, or something still refers to it.',
    };
  }
  if (code === '23514' || code.startsWith('22')) {
    return { code: 'invalid-input', detail: 'A value is outside what can be stored.' };
  }
  if (code === '40001' || code === '40P01' || code === 'P2034') {
    return { code: 'conflict', detail: 'Somebody else changed the same thing at that moment. Try again.' };
  }
  if (
    code.startsWith('08') ||
    code.startsWith('57P') ||
    code === '53300' ||
    code === 'P2024' ||
    code === 'P2028'
  ) {
    return unavailable;
  }
  return null;
}

const unavailable: Fault = {
  code: 'unavailable',
  detail:
    'The database cannot be reached just now. Nothing was saved by this request; try again in a moment.',
};

function networkRefusal(error: unknown): Fault | null {
  const { code, message } = error as { code?: unknown; message?: unknown };
  const text = [code, message].filter((part) => typeof part === 'string').join(' ');
  return /ECONNREFUSED|ECONNRESET|EPIPE|ENOENT.*\.s\.PGSQL|Connection terminated|timeout exceeded when trying to connect|Can't reach database|DatabaseNotReachable|ConnectionClosed|Unable to start a transaction/i.test(
    text,
  )
    ? unavailable
    : null;
}

function frameworkRefusal(error: FastifyError): Fault {
  const status = error.statusCode ?? 500;
  if (status === 413) return { code: 'too-large', detail: error.message };
  if (status === 415) return { code: 'wrong-kind', detail: error.message };
  if (status === 429) return { code: 'too-many-requests', detail: error.message };
  if (status === 404) return { code: 'not-found', detail: error.message };
  if (status >= 400 && status < 500) return { code: 'malformed-request', detail: error.message };
  return {
    code: 'internal',
    detail:
      'Something went wrong on the server and nothing was saved. Quote the reference to whoever runs it.',
  };
}

const sentence = (message: string) => `${message.charAt(0).toUpperCase()}${message.slice(1)}.`;
