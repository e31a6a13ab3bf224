import { z } from 'zod';
import type { Permission } from './permissions.ts';
import type { ProblemCode } from './problems.ts';
import { Csv } from './scalars.ts';

/**
 * An endpoint is a value: the API turns it into a route, the web app into a typed call.
 * Reading endpoints carry no body; writing endpoints may.
 */
export type Access = 'anyone' | 'signed-in' | Permission;

/** The wings of the contracts and of the API, the lowest first. */
export type Wing =
  'core' | 'catalog' | 'lab' | 'colour' | 'sales' | 'production' | 'quality' | 'billing' | 'workspace';

type Shape = z.ZodRawShape;
export type NoShape = Record<never, never>;
/** A name that is misspelt must not quietly change what is found: it is refused, and told which names there are. */
const queryOf = <Q extends Shape>(shape: Q) =>
  z.strictObject(shape, {
    error: (issue) => {
      if (issue.code !== 'unrecognized_keys') return undefined;
      const names = Object.keys(shape);
      const allowed = names.length === 0 ? 'none is allowed here' : `allowed: ${names.join(', ')}`;
      return `unknown parameter ${issue.keys.join(', ')}; ${allowed}`;
    },
  });
const noQuery = queryOf({});

export interface Endpoint<
  P extends z.ZodType = z.ZodType,
  Q extends z.ZodType = z.ZodType,
  B extends z.ZodType = z.ZodType,
  R extends z.ZodType = z.ZodType,
> {
  /** The name it is exported by, and its `operationId`. */
  readonly name: string;
  readonly tags: readonly [Wing];
  readonly method: 'GET' | 'POST' | 'PUT' | 'DELETE';
  /** Below `/api`, with `:name` for each member of `params`. */
  readonly path: string;
  /** Who may call it. There is no default: an endpoint that names nobody does not compile. */
  readonly access: Access;
  /** One line for the API description. */
  readonly summary: string;
  readonly params: P;
  readonly query: Q;
  readonly body: B;
  /** The media type that a body is sent as. */
  readonly bodyType: 'application/json' | 'multipart/form-data';
  readonly reply: R;
  readonly status: 200 | 201 | 202 | 204;
  /** What it can be refused with beside what every endpoint of its kind can: see `problemStatuses`. */
  readonly problems: readonly ProblemCode[];
  /** Answers that are neither its reply nor a problem, by their status. */
  readonly otherReplies: Readonly<Record<number, z.ZodType>>;
  /** An edit that must name the version it started from (`If-Match`); a clash is answered with 412. */
  readonly versioned: boolean;
  /**
   * Every write takes an `Idempotency-Key`: the same key again returns the first answer and changes nothing. Where
   * one is refused instead, this says why; null where it is taken.
   */
  readonly keyless: string | null;
  /** What takes a credential again, given within {@link proofLivesS}: a signature, or a change of how one signs in. */
  readonly proof: ProofFor | null;
  /** How often one address may ask in a minute, where that is less than for most endpoints. */
  readonly perMinute?: number;
  /**
   * Whether it reads as a search: a few at once and for some seconds at most, so that no search keeps others from their work.
   * A table of a whole list does, and a list that is asked for words.
   */
  readonly searches?: true;
  /** How large the body may be, where that is more than for most endpoints. */
  readonly maxBodyBytes?: number;
}
/** A table of a whole list costs as much as many pages. */
const exportsPerMinute = 30;

/** Why a write refuses a key, for whoever sends one and in the description of the API. */
const keyless = {
  'opens a sign-in':
    'Nobody is signed in whom a key could belong to, and the answer opens a sign-in, which must not be stored.',
  'ends a sign-in': 'It ends the sign-in that a resend would need; sent twice it does nothing more.',
  'takes a secret': 'It takes a secret, of which nothing is kept that could be compared with a resend.',
  'gives a secret': 'The answer holds a secret that is shown once and must not be stored.',
  'takes a challenge': 'What it gives or takes counts once by itself: sent twice it is refused.',
  'one at a time': 'Only one is under way at a time: sent twice, the second is refused.',
  'keeps a draft': 'It takes the place of what was sent before, which nothing else comes of.',
  'works out only': 'It only works something out: nothing is written.',
} as const;
export type Keyless = keyof typeof keyless;

/** A signature takes the password, the PIN or a passkey; the account does not take the PIN. */
export type ProofFor = 'signature' | 'account';
/** How long a credential that was given again counts. */
export const proofLivesS = 5 * 60;

interface Common<P extends Shape, Q extends Shape, R extends z.ZodType> {
  name: string;
  tags: readonly [Wing];
  path: string;
  access: Access;
  summary: string;
  params?: P;
  query?: Q;
  reply: R;
  problems?: readonly ProblemCode[];
  otherReplies?: Readonly<Record<number, z.ZodType>>;
  perMinute?: number;
  searches?: true;
}

const described = ({
  name,
  tags,
  path,
  access,
  summary,
  problems = [],
  otherReplies = {},
}: Omit<Common<Shape, Shape, z.ZodType>, 'reply'>) => ({
  ...{ name, tags, path, access, summary, problems, otherReplies },
});
const isTable = ({ reply }: { reply: z.ZodType }) => reply === Csv;
const limited = (perMinute: number | undefined) => (perMinute === undefined ? {} : { perMinute });

/**
 * An endpoint that only reads.
 *
 * @example
 * export const getPart = defineQuery({
 *   name: 'getPart',
 *   tags: ['catalog'],
 *   path: '/parts/:id',
 *   access: 'parts.read',
 *   summary: 'One part',
 *   params: { id: PathId },
 *   reply: Part,
 * });
 */
export function defineQuery<R extends z.ZodType, P extends Shape = NoShape, Q extends Shape = NoShape>(
  options: Common<P, Q, R>,
): Endpoint<z.ZodObject<P>, z.ZodObject<Q, z.core.$strict>, z.ZodUndefined, R> {
  return {
    ...described(options),
    method: 'GET',
    params: z.object((options.params ?? {}) as P),
    query: queryOf((options.query ?? {}) as Q),
    body: z.undefined(),
    bodyType: 'application/json',
    reply: options.reply,
    status: 200,
    versioned: false,
    keyless: 'It only reads.',
    proof: null,
    ...limited(options.perMinute ?? (isTable(options) ? exportsPerMinute : undefined)),
    ...(options.searches === true || isTable(options) ? { searches: true as const } : {}),
  };
}

interface Writing<P extends Shape, B extends z.ZodType, R extends z.ZodType> extends Common<P, NoShape, R> {
  method?: 'POST' | 'PUT' | 'DELETE';
  body: B;
  bodyType?: 'application/json' | 'multipart/form-data';
  status?: 200 | 201 | 202 | 204;
  versioned?: boolean;
  keyless?: Keyless;
  maxBodyBytes?: number;
  proof?: ProofFor;
}

/**
 * An endpoint that changes something.
 *
 * @example
 * export const createPart = defineCommand({
 *   name: 'createPart',
 *   tags: ['catalog'],
 *   path: '/parts',
 *   access: 'parts.write',
 *   summary: 'Add a part',
 *   body: NewPart,
 *   reply: Part,
 *   status: 201,
 * });
 */
export function defineCommand<R extends z.ZodType, B extends z.ZodType, P extends Shape = NoShape>(
  options: Writing<P, B, R>,
): Endpoint<z.ZodObject<P>, typeof noQuery, B, R> {
  return {
    ...described(options),
    method: options.method ?? 'POST',
    params: z.object((options.params ?? {}) as P),
    query: noQuery,
    body: options.body,
    bodyType: options.bodyType ?? 'application/json',
    reply: options.reply,
    status: options.status ?? 200,
    versioned: options.versioned ?? false,
    keyless: options.keyless === undefined ? null : keyless[options.keyless],
    proof: options.proof ?? null,
    ...limited(options.perMinute),
    ...(options.maxBodyBytes === undefined ? {} : { maxBodyBytes: options.maxBodyBytes }),
  };
}

/** The reply of a write that has nothing to say. */
export const EmptyReply = z.object({}).meta({ description: 'Done' });
/** The body of a write that needs no words. */
export const EmptyBody = z.strictObject({});
