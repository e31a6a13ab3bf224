import type { Endpoint } from '@huelot/contracts';
import type { z } from 'zod';

/** What an endpoint takes as its body. */
export type BodyOf<E extends Endpoint> = z.input<E['body']>;

/** Values of a form while they are typed: a number is missing until it is there. */
export type AsTyped<T> = {
  [K in keyof T]: number extends T[K] ? T[K] | null : T[K] extends number[] ? (number | null)[] : T[K];
};

/**
 * What was typed, as it is sent. A number that is still missing goes along as null, and the server refuses it by the
 * name of its field.
 *
 * @example
 * send: (values) => api(createTank, { body: asTyped<NewTank>(values) })
 */
export const asTyped = <T>(values: AsTyped<T>): T => values as T;
