import { z } from 'zod';

/** Every way a request can fail, with the HTTP status it is answered with. One table; nothing else names a status. */
export const problemCodes = {
  'invalid-input': 422,
  'malformed-request': 400,
  /** The key of a write was sent with another request before. */
  'key-reused': 422,
  'not-signed-in': 401,
  'wrong-credentials': 401,
  'not-allowed': 403,
  /** A signature, or a change of the account, takes a credential given again. */
  'prove-again': 403,
  'second-factor-missing': 403,
  'cross-origin': 403,
  'not-found': 404,
  'already-exists': 409,
  'in-use': 409,
  immutable: 409,
  conflict: 409,
  /** A write with the same key has no answer yet. */
  'in-progress': 409,
  'on-hold': 409,
  /** The bath is stopped or overdue: it takes somebody's word and reason. */
  'override-needed': 409,
  /** No evidence proves the recipe for this alloy: it takes somebody's word and reason. */
  'not-proved': 409,
  /** Whoever does it is not on record as fit for it: it takes the word of quality or an owner. */
  'not-competent': 409,
  'already-signed': 409,
  /** Somebody else is signed in than the person the words are of. */
  'other-person': 409,
  'not-current': 409,
  incompatible: 409,
  'version-conflict': 412,
  'too-large': 413,
  'unsupported-media-type': 415,
  'version-missing': 428,
  'too-many-requests': 429,
  internal: 500,
  unavailable: 503,
  busy: 503,
  'disk-full': 507,
} as const;

export type ProblemCode = keyof typeof problemCodes;

export const FieldIssue = z.object({
  /** Where, as a path into the body or query: `lines.0.quantity`. */
  path: z.string(),
  /** What is wrong, what was given and what is allowed. */
  message: z.string(),
});
export type FieldIssue = z.output<typeof FieldIssue>;

/** RFC 9457 problem details, as `application/problem+json`. */
export const Problem = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    code: z.enum(Object.keys(problemCodes) as [ProblemCode, ...ProblemCode[]]),
    detail: z.string(),
    issues: z.array(FieldIssue).optional(),
    /** The record as it is now, when an edit clashed with another. */
    current: z.unknown().optional(),
    /** Quote it to whoever runs the server. */
    reference: z.string().optional(),
  })
  .meta({ id: 'Problem' });
export type Problem = z.output<typeof Problem>;
