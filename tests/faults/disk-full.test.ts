import { createHash } from 'node:crypto';
import path from 'node:path';
import type { Problem, StoredFile } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { query } from '../support/database-server.ts';
import { Service, until } from './service.ts';
import { addCustomer, becomeOwner, customerNames, databaseOf, upload, type Cookie } from './shop.ts';
import { mountSmallVolume } from './small-volume.ts';

/** What the service says of itself, whatever the status. */
async function condition(service: Service): Promise<{ status: number; database: string; reason?: string }> {
  const answer = await fetch(`${service.url}/api/health`);
  return { status: answer.status, ...((await answer.json()) as { database: string; reason?: string }) };
}

const inDatabase = <Row extends object>(service: Service, statement: string) =>
  query<Row>(databaseOf(service), statement);

/** Every file that was kept is as its row says, chunk by chunk. */
async function expectWholeFiles(service: Service, cookie: Cookie, kept: StoredFile[]): Promise<void> {
  const rows = await inDatabase<{ id: number }>(service, 'select id from file order by id');
  expect(rows.map(({ id }) => id)).toEqual(kept.map(({ id }) => id));
  for (const { id, sha256 } of kept) {
    const content = await fetch(`${service.url}/api/files/${id}/content`, { headers: { cookie } });
    const bytes = Buffer.from(await content.arrayBuffer());
    expect(createHash('sha256').update(bytes).digest('hex')).toBe(sha256);
  }
}

test('a full disk is told in words and on the health address, nothing is half-written, and room heals it', async () => {
  const volume = mountSmallVolume(220);
  const service = await Service.start({ dataDir: path.join(volume.folder, 'data') });
  const cookie = await becomeOwner(service);
  const kept: StoredFile[] = [];
  const send = async (name: string) => {
    const answer = await upload(service, { name, cookie, bytes: 1_000_000 });
    if (answer.status === 201) kept.push((await answer.json()) as StoredFile);
    return answer;
  };
  expect((await send('before')).status).toBe(201);

  volume.fill(500);
  const refused = await send('too-much');
  expect(await refused.json()).toMatchObject({
    status: 507,
    code: 'disk-full',
    detail: expect.stringMatching(/no room left on its disk. Nothing was saved/) as string,
  } satisfies Partial<Problem>);
  expect(await condition(service)).toMatchObject({
    status: 503,
    database: 'full',
    reason: 'The server has no room left on its disk.',
  });
  expect(await customerNames(service, cookie)).toEqual(new Set());

  volume.makeRoom();
  await service.untilHealthy();
  expect((await send('with-room-again')).status).toBe(201);
  await expectWholeFiles(service, cookie, kept);
  expect(await service.stop()).toBe(0);
});

test('a disk too full for the log of writes stops the database, not the service, and room brings it back', async () => {
  const volume = mountSmallVolume(220);
  const service = await Service.start({ dataDir: path.join(volume.folder, 'data') });
  const cookie = await becomeOwner(service);
  expect((await addCustomer(service, { name: 'written-1-1', cookie })).status).toBe(201);

  volume.fill();
  const acknowledged = new Set(['written-1-1']);
  for (let number = 2; !service.output.includes('because the disk is full'); number += 1) {
    await inDatabase(service, 'select pg_switch_wal()').catch(() => undefined);
    const answer = await addCustomer(service, { name: `written-1-${number}`, cookie });
    if (answer.status === 201) acknowledged.add(`written-1-${number}`);
    else expect([503, 507]).toContain(answer.status);
  }
  expect(service.isRunning).toBe(true);
  expect((await condition(service)).status).toBe(503);

  volume.makeRoom();
  await until(async () => (await service.health()) === 200);
  expect(service.isRunning).toBe(true);
  expect((await addCustomer(service, { name: 'written-2-1', cookie })).status).toBe(201);
  const names = await customerNames(service, cookie);
  for (const name of acknowledged) expect(names).toContain(name);
  expect(await service.stop()).toBe(0);
});
