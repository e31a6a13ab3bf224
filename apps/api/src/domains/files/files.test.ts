import { createHash, randomBytes } from 'node:crypto';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { maxFileBytes, type StoredFile } from '@huelot/contracts';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { testApp, type Ask, type TestApp } from '../../../../../tests/support/app.ts';
import { multipart } from '../../../../../tests/support/multipart.ts';
import { chunkBytes } from './files.ts';
import { keepFiles } from './queries.ts';

let huelot: TestApp;
let ask: Ask;
/** A temporary folder of this file's own, to see that nothing stays in it. */
const temporary = mkdtempSync(path.join(tmpdir(), 'huelot-files-test-'));
vi.stubEnv('TMPDIR', temporary);
afterAll(() => {
  vi.unstubAllEnvs();
  rmSync(temporary, { recursive: true });
});
beforeAll(async () => {
  huelot = await testApp();
  ask = await huelot.as('estimator');
});

const send = (name: string, content: Buffer | string, field?: string) =>
  ask({ method: 'POST', url: '/api/files', ...multipart({ name, content, ...(field ? { field } : {}) }) });
const count = () => huelot.db.prisma.file.count();
const pdf = '%PDF-1.7\n%%EOF\n';
const png = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0]);

test('a file comes back byte for byte, from chunks, and is announced as something to save', async () => {
  const content = Buffer.concat([Buffer.from('%PDF-1.7\n'), randomBytes(chunkBytes * 2 + 17)]);
  const sent = await send('drawing Ø12 (rev B).pdf', content);
  expect(sent.statusCode, sent.body).toBe(201);
  const file = sent.json<StoredFile>();
  expect(file).toMatchObject({
    name: 'drawing Ø12 (rev B).pdf',
    mediaType: 'application/pdf',
    sizeBytes: content.length,
    sha256: createHash('sha256').update(content).digest('hex'),
  });
  expect(await huelot.db.prisma.fileChunk.count({ where: { fileId: file.id } })).toBe(3);
  expect((await ask({ url: `/api/files/${file.id}` })).json()).toEqual(file);

  const answer = await ask({ url: `/api/files/${file.id}/content` });
  expect(answer.rawPayload.equals(content)).toBe(true);
  expect(answer.headers).toMatchObject({
    'content-type': 'application/pdf',
    'content-length': String(content.length),
    'x-content-type-options': 'nosniff',
    'content-disposition': `attachment; filename="drawing _12 (rev B).pdf"; filename*=UTF-8''drawing%20%C3%9812%20%28rev%20B%29.pdf`,
  });
});

test('only a picture or a PDF is shown in the browser, and a picture in a sandbox', async () => {
  const picture = (await send('photo.png', png)).json<StoredFile>();
  const shown = await ask({ url: `/api/files/${picture.id}/content?show=inline` });
  expect(shown.headers['content-disposition']).toMatch(/^inline/);
  expect(shown.headers['content-security-policy']).toContain('sandbox');
  const text = (await send('notes.txt', 'plain words')).json<StoredFile>();
  const saved = await ask({ url: `/api/files/${text.id}/content?show=inline` });
  expect(saved.headers['content-disposition']).toMatch(/^attachment/);
});

test.each([
  ['../../../etc/passwd.txt', 'passwd.txt'],
  [String.raw`C:\parts\bracket.txt`, 'bracket.txt'],
  ['a\u202Etxt.exe.txt', 'atxt.exe.txt'],
])('the name %j is kept as %j', async (given, kept) => {
  expect((await send(given, 'words')).json<StoredFile>().name).toBe(kept);
});

test.each([
  ['picture.png', pdf, 'is not a PNG picture'],
  ['drawing.pdf', '<html></html>', 'is not a PDF'],
  ['photo.jpg', png, 'is not a JPEG picture'],
  ['photo.webp', 'RIFFxxxxWAVE', 'is not a WebP picture'],
  ['mesh.stl', pdf, 'is not a STL mesh'],
  ['model.step', 'solid box', 'is not a STEP model'],
  ['drawing.dxf', 'hello', 'is not a DXF drawing'],
  ['table.csv', Buffer.from([0x61, 0, 0x62]), 'is not a CSV table'],
  ['notes.txt', Buffer.from([0xff, 0xfe, 0x41]), 'is not a text'],
  ['empty.stl', '', 'is empty'],
  ['page.html', '<p>', 'the kinds kept end in'],
  ['noending', 'x', 'the kinds kept end in'],
  ['constructor', 'x', 'the kinds kept end in'],
  ['.pdf', pdf, 'the kinds kept end in'],
])('%s with the wrong content is refused and not kept', async (name, content, words) => {
  const before = await count();
  const answer = await send(name, content);
  expect(answer.statusCode, answer.body).toBe(422);
  expect(answer.json()).toMatchObject({ issues: [{ path: 'file' }] });
  expect(answer.json<{ detail: string }>().detail).toContain(words);
  expect(await count()).toBe(before);
});

test.each([
  ['a.stl', 'solid box\nendsolid box\n'],
  ['a.STP', '/* made by hand */\nISO-10303-21;\n'],
  ['a.dxf', '999\nmade by hand\n  0\nSECTION\n'],
  ['a.csv', 'a;b\n1;2\n'],
  ['a.jpeg', Buffer.from([0xff, 0xd8, 0xff, 0xe0])],
])('%s with the right content is kept', async (name, content) => {
  expect((await send(name, content)).statusCode).toBe(201);
});

test('one byte more than fits is refused, whether announced or not; exactly what fits is kept', async () => {
  const before = await count();
  const fits = Buffer.concat([Buffer.from('%PDF-'), Buffer.alloc(maxFileBytes - 5)]);
  const answer = await send('large.pdf', Buffer.concat([fits, Buffer.alloc(1)]));
  expect(answer.json()).toMatchObject({ status: 413, code: 'too-large', issues: [{ path: 'file' }] });
  const announced = await ask({
    method: 'POST',
    url: '/api/files',
    headers: { 'content-type': 'multipart/form-data; boundary=x', 'content-length': '900000000' },
    payload: '--x--\r\n',
  });
  expect(announced.statusCode).toBe(413);
  expect(await count()).toBe(before);
  expect((await send('large.pdf', fits)).statusCode).toBe(201);
});

test('what is no upload at all is refused in words', async () => {
  const json = await ask({ method: 'POST', url: '/api/files', payload: { file: 'x' } });
  expect(json.statusCode).toBe(422);
  const empty = await ask({ method: 'POST', url: '/api/files', payload: {} });
  expect(empty.json()).toMatchObject({ status: 415, code: 'wrong-kind' });
  expect((await send('a.pdf', pdf, 'picture')).json()).toMatchObject({ status: 422 });
  const headers = { 'content-type': 'multipart/form-data; boundary=x' };
  for (const payload of ['', '--x', '--x\r\n\r\n', '--y\r\nnonsense', '--x--\r\n']) {
    const answer = await ask({ method: 'POST', url: '/api/files', headers, payload });
    expect([400, 422], `${payload}: ${answer.body}`).toContain(answer.statusCode);
  }
  const cut = multipart({ name: 'a.pdf', content: pdf });
  const short = await ask({
    method: 'POST',
    url: '/api/files',
    headers: cut.headers,
    payload: cut.payload.subarray(0, -40),
  });
  expect([400, 422], short.body).toContain(short.statusCode);
});

test('nothing of an upload stays in the temporary folder', async () => {
  await send('a.pdf', pdf);
  await send('a.pdf', 'no');
  expect(readdirSync(temporary)).toEqual([]);
});

test('what never became part of a record is dropped after two days; what did stays', async () => {
  const { prisma, run } = huelot.db;
  const stays = (await send('stays.pdf', pdf)).json<StoredFile>();
  const goes = (await send('goes.pdf', pdf)).json<StoredFile>();
  const young = (await send('young.pdf', pdf)).json<StoredFile>();
  await keepFiles(run, [stays.id]);
  const createdAt = new Date(Date.now() - 3 * 24 * 3600 * 1000);
  await prisma.file.updateMany({ where: { id: { in: [stays.id, goes.id] } }, data: { createdAt } });
  await send('next.pdf', pdf);
  const status = async (id: number) => (await ask({ url: `/api/files/${id}` })).statusCode;
  expect([await status(stays.id), await status(goes.id), await status(young.id)]).toEqual([200, 404, 200]);
  expect((await ask({ url: `/api/files/${goes.id}/content` })).statusCode).toBe(404);
});

test('who may not write parts sends no files; everyone signed in reads them', async () => {
  const operator = await huelot.as('operator');
  const refused = await operator({
    method: 'POST',
    url: '/api/files',
    ...multipart({ name: 'a.pdf', content: pdf }),
  });
  expect(refused.statusCode).toBe(403);
  const file = (await send('a.pdf', pdf)).json<StoredFile>();
  expect((await operator({ url: `/api/files/${file.id}/content` })).statusCode).toBe(200);
  expect((await huelot.app.inject({ url: `/api/files/${file.id}/content` })).statusCode).toBe(401);
});
