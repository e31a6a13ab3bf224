import { AsyncLocalStorage } from 'node:async_hooks';
import pg from 'pg';

/** One statement as the driver was given it. */
type Statement = unknown[];
type Query = (...statement: Statement) => unknown;

const written = new AsyncLocalStorage<Statement[]>();

/** From here on, {@link statementsOf} sees what this process sends to PostgreSQL. */
export function watchStatements(): void {
  // The driver's own method, kept and called with the connection it belongs to.
  const original = Reflect.get(pg.Client.prototype, 'query') as Query;
  const watched: Query = function (this: pg.Client, ...statement) {
    written.getStore()?.push(statement.filter((part) => typeof part !== 'function'));
    return Reflect.apply(original, this, statement);
  };
  Reflect.set(pg.Client.prototype, 'query', watched);
}

/** Does something once and returns every statement it sent, in order. */
export async function statementsOf(work: () => Promise<unknown>): Promise<Statement[]> {
  const statements: Statement[] = [];
  await written.run(statements, work);
  return statements;
}

/** Sends the same statements again through bare pg, on one connection. */
export async function replay(pool: pg.Pool, statements: readonly Statement[]): Promise<void> {
  const client = await pool.connect();
  try {
    const send = client.query.bind(client) as Query;
    for (const statement of statements) await send(...statement);
  } finally {
    client.release();
  }
}
