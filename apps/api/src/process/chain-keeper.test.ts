import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { testDatabases } from '../../../../tests/support/database.ts';
import { startSealing, openChainKeys } from './chain-keeper.ts';
import { sql } from '../db/client.ts';
import { addKey, beginNewKey, parseSeal, verifyChain, type ChainKeys } from '../core/hash-chain/index.ts';
import type { Mail } from '../kernel/mailer.ts';

const { db, serviceDb } = await testDatabases();
const folder = mkdtempSync(path.join(tmpdir(), 'huelot-chain-'));
afterAll(() => rmSync(folder, { recursive: true }));
const file = path.join(folder, 'chain.key');

const faults: object[] = [];
const log = { error: (about: object, words: string) => faults.push({ about, words }) };
const write = () =>
  serviceDb.execute(sql`
    insert into "audit_entry" ("personName", "roles", "action", "recordKind", "recordId") values ('Ann', '{owner}', 'did it', 'lot', 1)`);
const state = async () => {
  const [row] = await db.execute<{ entries: number; waiting: number }>(sql`
    select (select count(*)::int from "chain_link") as "entries", (select count(*)::int from "chain_queue") as "waiting"`);
  return row;
};
let keys: ChainKeys;

test('the key is made at the first start, told of, and found again at the next', async () => {
  const first = await openChainKeys(serviceDb, file);
  expect(first.notices.join()).toContain(`The key of the chain over the record was made: ${file}`);
  const second = await openChainKeys(serviceDb, file);
  expect(second).toEqual({ keys: first.keys, notices: [] });
  if (second.keys === null) throw new Error('there is no key');
  keys = second.keys;
});

test('what was written last before a stop was never chained, or the day had no seal', async () => {
  const mails: Mail[] = [];
  const mailer = {
    send: (mail: Mail) => {
      mails.push(mail);
      return Promise.resolve();
    },
  };
  const mail = { mailer, to: 'notary@example.com', publicUrl: 'https://shop.example' };
  const stop = startSealing(serviceDb, { keys, log, mail });
  await write();
  await stop();
  const { entries, waiting } = (await state()) ?? {};
  expect(waiting).toBe(0);
  expect(entries).toBeGreaterThan(0);
  expect(mails).toMatchObject([{ to: 'notary@example.com' }]);
  const seal = parseSeal(mails[0]?.text ?? '');
  expect(seal?.position).toBe(entries);
  expect(await verifyChain(serviceDb, { keys, seal })).toMatchObject({ whole: true });

  await write();
  await startSealing(serviceDb, { keys, log, mail })();
  expect(mails).toHaveLength(1);
  expect(faults).toEqual([]);
});

test('a database that is away is said once, and the chain goes on when it is back', async () => {
  const gone = { ...serviceDb, execute: () => Promise.reject(new Error('gone')) };
  await startSealing(gone, { keys, log, mail: null })();
  expect(faults.splice(0)).toMatchObject([{ words: 'the record was not chained; it is tried again' }]);
});

test('a lost key was replaced by another in silence', async () => {
  const text = readFileSync(file, 'utf8');
  rmSync(file);
  const opened = await openChainKeys(serviceDb, file);
  expect(opened.keys).toBeNull();
  expect(opened.notices.join()).toContain(`is not in ${file}`);
  expect(existsSync(file)).toBe(false);

  // Somebody decides to go on with a new one: what was chained before cannot be compared until the old one is back.
  const renewed = addKey(file);
  await beginNewKey(db, renewed);
  await write();
  const before = await verifyChain(serviceDb, { keys: renewed });
  expect(before).toMatchObject({
    whole: false,
    faultCount: 0,
    unknownKeys: [{ keyId: keys.newestId, from: 1 }],
  });
  writeFileSync(file, text + readFileSync(file, 'utf8'), { mode: 0o600 });
  const { keys: both } = await openChainKeys(serviceDb, file);
  if (both === null) throw new Error('there is no key');
  expect(await verifyChain(serviceDb, { keys: both })).toMatchObject({ whole: true, unknownKeys: [] });
});
