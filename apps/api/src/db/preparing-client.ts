import { createHash } from 'node:crypto';
import pg from 'pg';

/** How many statements get a name. Lists with many filters make many; each costs memory on every connection. */
const MAX_ITEMS = 1000;
const names = new Map<string, string>();

/**
 * In front of a statement, that its plan must fit what is asked this time: how common a word or a setting is decides how to
 * find it, and a plan that was kept from another search would read the years for it.
 */
export const plannedAnewMark = '/* planned anew */';

/**
 * A connection that plans each statement once and is asked one thing at a time. The wide reads of one record take
 * PostgreSQL longer to plan than to run: a named statement keeps its plan for as long as the connection lives. Prisma
 * sends the reads of a transaction side by side, which the driver no longer wants: here they wait for each other.
 */
export class PreparingClient extends pg.Client {
  constructor(config?: string | pg.ClientConfig) {
    super(config);
    // A connection that breaks while somebody holds it says so to the query in flight, or to the next one. Without a
    // listener it would end the process as well; the pool listens only while nobody holds it.
    this.on('error', () => undefined);
    const send = this.query.bind(this) as (...input: unknown[]) => Promise<unknown>;
    let before: Promise<unknown> = Promise.resolve();
    const query = (first: unknown, ...rest: unknown[]) => {
      if (rest.some((input) => typeof input === 'function')) return send(named(first), ...rest);
      const answer = before.then(() => send(named(first), ...rest));
      before = answer.catch(() => undefined);
      return answer;
    };
    // The driver's type of `query` has a dozen overloads; what it is given passes through unchanged but for the name.
    this.query = query as typeof this.query;
  }
}

function named(query: unknown): unknown {
  if (typeof query !== 'object' || query === null || !('text' in query) || !('values' in query)) return query;
  const { text, values } = query;
  if (typeof text !== 'string' || !Array.isArray(values) || values.length === 0) return query;
  if (text.startsWith(plannedAnewMark)) return query;
  const name = nameOf(text);
  return name === undefined ? query : { ...query, name };
}

function nameOf(text: string): string | undefined {
  const known = names.get(text);
  if (known !== undefined || names.size >= MAX_ITEMS) return known;
  const name = createHash('sha1').update(text).digest('base64url');
  names.set(text, name);
  return name;
}
