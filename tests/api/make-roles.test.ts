import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { startEmbedded } from '../../apps/api/src/db/embedded/index.ts';
import { migrate } from '../../apps/api/src/db/migrate.ts';
import { grantToService, makeRoles, readPowers, serviceRole } from '../../apps/api/src/db/roles.ts';
import { query } from '../support/database-server.ts';

/** A server of its own: roles belong to the whole server, and other tests work as the running role meanwhile. */
async function ownServer(): Promise<string> {
  const dataDir = mkdtempSync(path.join(tmpdir(), 'huelot-roles-'));
  const embedded = await startEmbedded({ dataDir, durable: false });
  onTestFinished(async () => {
    await embedded.stop();
    rmSync(embedded.home, { recursive: true, force: true });
    rmSync(dataDir, { recursive: true, force: true });
  });
  await query(embedded.connectionString, `alter role ${serviceRole} rename to another_service`);
  return embedded.connectionString;
}

test('one script makes both roles on a server of the shop and hands them a database that is in use', async () => {
  const database = await ownServer();
  await migrate(database);
  await query(
    database,
    `insert into "audit_entry" ("personName", "roles", "action", "recordKind", "recordId") values ('Ann', '{owner}', 'did it', 'lot', 1)`,
  );
  const { ownerUrl, serviceUrl } = await makeRoles(database);
  expect(await readPowers(serviceUrl)).toEqual({ isSuperuser: false, ownsTables: false });
  expect(await readPowers(ownerUrl)).toEqual({ isSuperuser: false, ownsTables: true });
  expect(await migrate(ownerUrl)).toEqual([]);
  await grantToService(ownerUrl, serviceRole);
  await expect(query(serviceUrl, `delete from "audit_entry"`)).rejects.toMatchObject({ code: '42501' });
  expect(await query(serviceUrl, `select "personName" from "audit_entry"`)).toEqual([{ personName: 'Ann' }]);
  await expect(makeRoles(database)).rejects.toThrow(/is there already/);
});
