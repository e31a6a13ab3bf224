import { z } from 'zod';
import type { Permission } from './permissions.ts';

/**
 * An endpoint is a value: the API turns it into a route, the web app into a typed call.
 * Reading endpoints carry no body; writing endpoints may.
 */
export type Access = 'anyone' | 'signed-in' | Permission;

type Shape = z.ZodRawShape;
export type NoShape = Record<never, never>;
const noParts = z.object({});

export interface Endpoint<
  P extends z.ZodType = z.ZodType,
  Q extends z.ZodType = z.ZodType,
  B extends z.ZodType = z.ZodType,
  R extends z.ZodType = z.ZodType,
> {
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
  readonly reply: R;
  readonly status: 200 | 201 | 202 | 204;
  /** An edit that must name the version it started from (`If-Match`); a clash is answered with 412. */
  readonly versioned: boolean;
  /** A write that accepts an `Idempotency-Key`: the same key again returns the first answer and changes nothing. */
  readonly idempotent: boolean;
}

interface Common<P extends Shape, Q extends Shape, R extends z.ZodType> {
  path: string;
  access: Access;
  summary: string;
  params?: P;
  query?: Q;
  reply: R;
}

/**
 * An endpoint that only reads.
 *
 * @example
 * export const getPart = reading({ path: '/parts/:id', access: 'parts.read', summary: 'One part', params: { id: Id }, reply: Part });
 */
export function reading<R extends z.ZodType, P extends Shape = NoShape, Q extends Shape = NoShape>(
  of: Common<P, Q, R>,
): Endpoint<z.ZodObject<P>, z.ZodObject<Q>, z.ZodUndefined, R> {
  return {
    method: 'GET',
    path: of.path,
    access: of.access,
    summary: of.summary,
    params: z.object((of.params ?? {}) as P),
    query: z.object((of.query ?? {}) as Q),
    body: z.undefined(),
    reply: of.reply,
    status: 200,
    versioned: false,
    idempotent: false,
  };
}

interface Writing<P extends Shape, B extends z.ZodType, R extends z.ZodType> extends Common<P, NoShape, R> {
  method?: 'POST' | 'PUT' | 'DELETE';
  body: B;
  status?: 200 | 201 | 202 | 204;
  versioned?: boolean;
  idempotent?: boolean;
}

/**
 * An endpoint that changes something.
 *
 * @example
 * export const createPart = writing({ path: '/parts', access: 'parts.write', summary: 'Add a part', body: NewPart, reply: Part, status: 201 });
 */
export function writing<R extends z.ZodType, B extends z.ZodType, P extends Shape = NoShape>(
  of: Writing<P, B, R>,
): Endpoint<z.ZodObject<P>, typeof noParts, B, R> {
  return {
    method: of.method ?? 'POST',
    path: of.path,
    access: of.access,
    summary: of.summary,
    params: z.object((of.params ?? {}) as P),
    query: noParts,
    body: of.body,
    reply: of.reply,
    status: of.status ?? 200,
    versioned: of.versioned ?? false,
    idempotent: of.idempotent ?? false,
  };
}

/** The reply of a write that has nothing to say. */
export const Nothing = z.object({}).meta({ description: 'Nothing to say: it is done' });
/** The body of a write that needs no words. */
export const NoBody = z.strictObject({});
