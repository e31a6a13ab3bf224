import { z } from 'zod';
import type { Endpoint } from './http.ts';
import { problemCodes, type ProblemCode } from './problems.ts';

const isEmpty = (schema: unknown) => Object.keys((schema as { shape: object }).shape).length === 0;

/** The general refusals of an endpoint, by what it is. */
const general: readonly [appliesTo: (endpoint: Endpoint) => boolean, codes: readonly ProblemCode[]][] = [
  [() => true, ['too-many-requests', 'internal', 'unavailable', 'busy']],
  [({ access }) => access !== 'anyone', ['not-signed-in', 'not-allowed', 'second-factor-missing']],
  [({ proof }) => proof !== null, ['prove-again']],
  [
    ({ method, params, query }) => method !== 'GET' || !isEmpty(params) || !isEmpty(query),
    ['malformed-request', 'invalid-input'],
  ],
  [({ params }) => !isEmpty(params), ['not-found']],
  [
    ({ method }) => method !== 'GET',
    ['cross-origin', 'conflict', 'too-large', 'unsupported-media-type', 'disk-full'],
  ],
  [({ keyless }) => keyless === null, ['in-progress', 'key-reused']],
  [({ versioned }) => versioned, ['version-conflict', 'version-missing']],
];

/** Every status of a problem that an endpoint can answer with, the lowest first. */
export function problemStatuses(endpoint: Endpoint): number[] {
  const codes = general.flatMap(([appliesTo, some]) => (appliesTo(endpoint) ? some : []));
  return [...new Set([...codes, ...endpoint.problems].map((code) => problemCodes[code]))].sort(
    (a, b) => a - b,
  );
}

/** The media type of what it answers. */
export const replyType = ({ reply }: Endpoint): string =>
  (reply.meta()?.['contentMediaType'] as string | undefined) ?? 'application/json';

/** Whether the answer carries the version of its record as its `ETag`. */
export const givesVersion = ({ reply }: Endpoint): boolean =>
  reply instanceof z.ZodObject && reply.shape['version'] instanceof z.ZodNumber;
