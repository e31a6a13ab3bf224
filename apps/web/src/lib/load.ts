import type { Endpoint } from '@huelot/contracts';
import { error } from '@sveltejs/kit';
import type { z } from 'zod';
import { ApiProblem } from './problem.ts';

/**
 * Reads what a page needs; a record that is not there or not allowed becomes the page's error with its own words.
 *
 * @example
 * export const load: PageLoad = async ({ params }) => ({
 *   part: await reading(api(getPart, { params: { id: idOf(params.id) } })),
 * });
 */
export async function reading<T>(answer: Promise<T>): Promise<T> {
  try {
    return await answer;
  } catch (caught) {
    if (!(caught instanceof ApiProblem)) throw caught;
    const { detail, reference, status } = caught;
    error(status === 0 ? 503 : status, {
      message: detail,
      ...(reference === undefined ? {} : { reference }),
    });
  }
}

/**
 * A record's key from the address; an address that holds none leads nowhere.
 *
 * @example
 * idOf('12') // 12
 */
export function idOf(text: string): number {
  const id = Number(text);
  if (!/^\d{1,10}$/.test(text) || id < 1 || id > 2_147_483_647)
    error(404, 'There is no record with that address.');
  return id;
}

/**
 * What the address of a page asks of an endpoint. The rest of the address is the page's own affair, and the endpoint would refuse it.
 *
 * @example
 * queryFrom(new URL('http://localhost/lots?search=T4&tab=2'), listLots) // { search: 'T4' }
 */
export const queryFrom = (
  { searchParams }: URL,
  { query }: Endpoint<z.ZodType, z.ZodObject>,
): Record<string, string> =>
  Object.fromEntries([...searchParams].filter(([name]) => Object.hasOwn(query.shape, name)));
