import { z } from 'zod';

/** Every way a request can fail, with the HTTP status it is answered with. One table; nothing else names a status. */
export const problemCodes = {
  'invalid-input': 422,
  'malformed-request': 400,
  'not-signed-in': 401,
  'wrong-credentials': 401,
  'not-allowed': 403,
  'foreign-origin': 403,
  'not-found': 404,
  'already-exists': 409,
  'in-use': 409,
  frozen: 409,
  conflict: 409,
  'on-hold': 409,
  /** The bath is stopped or overdue: it takes somebody's word and reason. */
  'override-needed': 409,
  'already-signed': 409,
  'not-current': 409,
  incompatible: 409,
  'changed-meanwhile': 412,
  'too-large': 413,
  'wrong-kind': 415,
  'version-missing': 428,
  'too-many-requests': 429,
  internal: 500,
  unavailable: 503,
} as const;

export type ProblemCode = keyof typeof problemCodes;

export const Issue = z.object({
  /** Where, as a path into the body or query: `lines.0.quantity`. */
  path: z.string(),
  /** What is wrong, what was given and what is allowed. */
  message: z.string(),
});
export type Issue = z.output<typeof Issue>;

/** RFC 9457 problem details, as `application/problem+json`. */
export const Problem = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    code: z.enum(Object.keys(problemCodes) as [ProblemCode, ...ProblemCode[]]),
    detail: z.string(),
    issues: z.array(Issue).optional(),
    /** The record as it is now, when an edit clashed with another. */
    current: z.unknown().optional(),
    /** Quote it to whoever runs the server. */
    reference: z.string().optional(),
  })
  .meta({ id: 'Problem' });
export type Problem = z.output<typeof Problem>;
