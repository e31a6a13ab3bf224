import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { TestProject } from 'vitest/node';
import { startEmbedded } from '../../apps/api/src/db/embedded/index.ts';
import { migrate } from '../../apps/api/src/db/migrate.ts';
import { grantToService, serviceRole } from '../../apps/api/src/db/roles.ts';
import { query, urlOf } from './database-server.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** A database of the running test server that may make and drop others. */
    databaseServer: string;
    /** The same, as the role that the service works as. */
    serviceServer: string;
  }
}

/** Starts one real PostgreSQL for the whole run, with a migrated database in it that each test file clones. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const dataDir = mkdtempSync(path.join(tmpdir(), 'huelot-test-'));
  const embedded = await startEmbedded({ dataDir, durable: false });
  const server = urlOf(embedded.connectionString, 'postgres');
  await query(server, 'create database template_huelot');
  await migrate(urlOf(embedded.connectionString, 'template_huelot'));
  await grantToService(urlOf(embedded.connectionString, 'template_huelot'), serviceRole);
  project.provide('serviceServer', urlOf(embedded.serviceConnectionString, 'postgres'));
  project.provide('databaseServer', server);
  return async () => {
    await embedded.stop();
    rmSync(embedded.home, { recursive: true, force: true });
    rmSync(dataDir, { recursive: true, force: true });
  };
}
