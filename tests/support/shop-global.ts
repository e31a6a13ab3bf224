import type { TestProject } from 'vitest/node';
import { openDatabase } from '../../apps/api/src/db/client.ts';
import { loadDemo, type DemoPerson } from '../../apps/api/src/demo/load.ts';
import { query, urlOf } from './database-server.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Who can sign in at the invented shop. */
    shopPeople: DemoPerson[];
  }
}

/** Makes the shop up once for the whole run, in a database that each journey clones. Comes after the database server. */
export default async function setup(project: TestProject): Promise<void> {
  const server = project.getProvidedContext().databaseServer;
  await query(server, 'create database template_shop template template_huelot strategy file_copy');
  const db = openDatabase({ connectionString: urlOf(server, 'template_shop') });
  const { people } = await loadDemo(db, { log: () => undefined });
  await db.close();
  project.provide('shopPeople', people);
}
