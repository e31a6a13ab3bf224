import pg from 'pg';

/** The same server, another database. */
export function urlOf(server: string, database: string): string {
  const url = new URL(server);
  url.pathname = `/${database}`;
  return url.href;
}

/** One statement on a connection of its own. */
export async function query<Row extends pg.QueryResultRow>(url: string, statement: string): Promise<Row[]> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return (await client.query<Row>(statement)).rows;
  } finally {
    await client.end();
  }
}
