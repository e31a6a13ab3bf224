import { buildApp } from '../../apps/api/src/app.ts';
import type { Db } from '../../apps/api/src/db/client.ts';
import { testSecrets } from './secrets.ts';

/** The description of the API as a service answers it, as text; nothing in it comes from a database. */
export async function servedOpenApi(version: string): Promise<string> {
  const db = { pool: {} } as unknown as Db;
  const app = await buildApp({ db, publicUrl: 'http://localhost:4070', version, secrets: testSecrets });
  await app.ready();
  const text = `${JSON.stringify(app.swagger(), null, 1)}\n`;
  await app.close();
  return text;
}
