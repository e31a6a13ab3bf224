import type { StoredFile } from '@huelot/contracts';
import { beforeAll, expect, test } from 'vitest';
import { testApp, type Ask, type TestApp } from '../../../../../tests/support/app.ts';
import { multipart } from '../../../../../tests/support/multipart.ts';
import { openFile } from './files.ts';

let huelot: TestApp;
let ask: Ask;
beforeAll(async () => {
  huelot = await testApp();
  ask = await huelot.as('estimator');
});

const upload = async () => {
  const content = `%PDF-1.7\n${'drawing '.repeat(50_000)}`;
  const answer = await ask({ method: 'POST', url: '/api/files', ...multipart({ name: 'a.pdf', content }) });
  return answer.json<StoredFile>();
};

test.each([
  [
    'changed',
    `update "file_chunk" set "bytes" = set_byte("bytes", 20, 33) where "fileId" = $1 and "seq" = 1`,
  ],
  ['removed', `delete from "file_chunk" where "fileId" = $1 and "seq" = 1`],
  ['added', `insert into "file_chunk" ("fileId", "seq", "bytes") values ($1, 2, 'more')`],
])('a stored file with a chunk %s was downloaded as if nothing had happened', async (_what, statement) => {
  const file = await upload();
  const url = `/api/files/${file.id}/content`;
  expect((await ask({ url })).statusCode).toBe(200);
  await huelot.db.pool.query(statement, [file.id]);
  const answer = await ask({ url });
  expect(answer.statusCode).toBe(500);
  expect(answer.headers['content-disposition']).toBeUndefined();
  expect(answer.json()).toMatchObject({ code: 'internal', reference: expect.any(String) as string });
  expect(answer.json<{ detail: string }>().detail).toContain(`file ${file.id}, a.pdf, is not what was sent`);
});

test('a model whose stored content was altered was read to its end by a measurement', async () => {
  const file = await upload();
  await huelot.db.pool.query(`delete from "file_chunk" where "fileId" = $1 and "seq" = 1`, [file.id]);
  await expect(openFile(huelot.db.execute, file.id).toArray()).rejects.toThrow('is not what was sent');
});
