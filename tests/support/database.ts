import { randomUUID } from 'node:crypto';
import { afterAll, inject } from 'vitest';
import { openDatabase, type Db } from '../../apps/api/src/db/client.ts';
import { query, urlOf } from './database-server.ts';

/**
 * A migrated, empty database of its own for a test file, dropped when the file is done. Call it at the top of the
 * file or in `beforeAll`.
 *
 * @example
 * const db = await testDatabase();
 */
export async function testDatabase(): Promise<Db> {
  return (await testDatabases()).db;
}

/** Such a database twice: as its owner, who may do anything, and as the role that the service works as. */
export async function testDatabases(): Promise<{ db: Db; serviceDb: Db }> {
  const { url, serviceUrl, drop } = await cloneDatabase();
  const db = openDatabase({ connectionString: url, max: 10 });
  const serviceDb = openDatabase({ connectionString: serviceUrl, max: 10 });
  afterAll(async () => {
    await db.close();
    await serviceDb.close();
    await drop();
  });
  return { db, serviceDb };
}

/** Only the address of such a database, for tests that open it themselves; the caller drops it. */
export async function cloneDatabase(
  template = 'template_huelot',
): Promise<{ url: string; serviceUrl: string; drop: () => Promise<void> }> {
  const server = inject('databaseServer');
  const name = `test_${randomUUID().replaceAll('-', '')}`;
  await query(server, `create database ${name} template ${template} strategy file_copy`);
  return {
    url: urlOf(server, name),
    serviceUrl: urlOf(inject('serviceServer'), name),
    drop: async () => void (await query(server, `drop database ${name} with (force)`)),
  };
}
