import { spawnSync } from 'node:child_process';
import { createHash, randomBytes } from 'node:crypto';
import { mkdirSync, mkdtempSync, readdirSync, rmdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { connect, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { maxFileBytes, type StoredFile } from '@huelot/contracts';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { testApp, type Ask, type TestApp } from '../../../../../tests/support/app.ts';
import { binaryStl, boxFacets, textStl } from '../../../../../tests/support/models.ts';
import { multipart } from '../../../../../tests/support/multipart.ts';
import { chunkBytes } from './files.ts';
import { keepFiles } from './queries.ts';
import { openTemporary, sweepTemporary } from './temporary.ts';

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
])('the name %j is kept as %j', async (input, kept) => {
  expect((await send(input, 'words')).json<StoredFile>().name).toBe(kept);
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
  ['cut.stl', binaryStl(boxFacets(20, 30, 5)).subarray(0, 300), 'states 12 facets and ends before the last'],
  ['long.stl', Buffer.concat([binaryStl(boxFacets(20, 30, 5)), Buffer.alloc(1)]), 'goes on after the last'],
  ['none.stl', Buffer.alloc(84), 'holds no facet'],
  ['none-in-text.stl', 'solid box\nendsolid box\n', 'holds no facet'],
  ['cut-in-text.stl', textStl(boxFacets(20, 30, 5)).slice(0, 200), 'does not end with endsolid'],
  ['cut.step', '/* made by hand */\nISO-10303-21;\n', 'does not end with END-ISO-10303-21'],
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
  ['a.stl', textStl(boxFacets(20, 30, 5))],
  ['b.stl', binaryStl(boxFacets(20, 30, 5), 'solid box')],
  ['a.STP', '/* made by hand */\nISO-10303-21;\nEND-ISO-10303-21;\n'],
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
  expect(empty.json()).toMatchObject({ status: 415, code: 'unsupported-media-type' });
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

test('what an upload left that was killed is swept at the start, and what lives is left alone', async () => {
  const gone = spawnSync(process.execPath, ['--version']).pid;
  const names = {
    killed: `huelot-upload-${gone}-aaaaaa`,
    earlierInThisContainer: `huelot-upload-${process.pid}-bbbbbb`,
    alive: `huelot-upload-${process.ppid}-cccccc`,
    unrelated: 'other',
  };
  for (const name of Object.values(names)) mkdirSync(path.join(temporary, name));
  writeFileSync(path.join(temporary, names.killed, 'content'), 'x');
  const using = await openTemporary();
  expect((await sweepTemporary()).sort()).toEqual([names.killed, names.earlierInThisContainer].sort());
  expect(readdirSync(temporary).sort()).toEqual(
    [names.alive, names.unrelated, path.basename(using.folder)].sort(),
  );
  await using.remove();
  const old = (Date.now() - 3 * 24 * 3600 * 1000) / 1000;
  utimesSync(path.join(temporary, names.alive), old, old);
  expect(await sweepTemporary()).toEqual([names.alive]);
  rmdirSync(path.join(temporary, names.unrelated));
});

test('nothing of an upload stays when the sender breaks it off', async () => {
  await huelot.app.listen({ port: 0, host: '127.0.0.1' });
  const { port } = huelot.app.server.address() as AddressInfo;
  const { cookie } = await huelot.as('estimator');
  const before = await count();
  const { headers, payload } = multipart({ name: 'a.pdf', content: Buffer.alloc(2_000_000, '%PDF-1.7') });
  const socket = connect(port, '127.0.0.1');
  socket.on('error', () => undefined);
  const head = {
    host: 'localhost',
    cookie,
    'content-length': String(payload.length),
    ...headers,
  };
  const lines = Object.entries(head).map(([name, value]) => `${name}: ${value}`);
  socket.write(['POST /api/files HTTP/1.1', ...lines, '', ''].join('\r\n'));
  socket.write(payload.subarray(0, 1_000_000));
  while (readdirSync(temporary).length === 0) await sleep(10);
  socket.destroy();
  while (readdirSync(temporary).length > 0) await sleep(10);
  expect(await count()).toBe(before);
});

test('what never became part of a record is dropped after two days; what did stays', async () => {
  const { prisma, execute } = huelot.db;
  const stays = (await send('stays.pdf', pdf)).json<StoredFile>();
  const goes = (await send('goes.pdf', pdf)).json<StoredFile>();
  const young = (await send('young.pdf', pdf)).json<StoredFile>();
  const createdAt = new Date(Date.now() - 3 * 24 * 3600 * 1000);
  await prisma.file.updateMany({ where: { id: { in: [stays.id, goes.id] } }, data: { createdAt } });
  await keepFiles(execute, [stays.id]);
  await send('next.pdf', pdf);
  const status = async (id: number) => (await ask({ url: `/api/files/${id}` })).statusCode;
  expect([await status(stays.id), await status(goes.id), await status(young.id)]).toEqual([200, 404, 200]);
  expect((await ask({ url: `/api/files/${goes.id}/content` })).statusCode).toBe(404);
});

test('who may not write parts sends no files', async () => {
  const operator = await huelot.as('operator');
  const refused = await operator({
    method: 'POST',
    url: '/api/files',
    ...multipart({ name: 'a.pdf', content: pdf }),
  });
  expect(refused.statusCode).toBe(403);
});

test('a file that hangs on no record is read by nobody but whoever sent it', async () => {
  const { id } = (await send('private.pdf', pdf)).json<StoredFile>();
  const others = [await huelot.as('owner'), await huelot.as('operator')];
  for (const url of [`/api/files/${id}`, `/api/files/${id}/content`]) {
    expect((await ask({ url })).statusCode).toBe(200);
    for (const other of others) {
      const answer = await other({ url });
      expect([answer.statusCode, answer.json<{ code: string }>().code]).toEqual([404, 'not-found']);
    }
    expect((await huelot.app.inject({ url })).statusCode).toBe(401);
  }
});

const chemicalWith = (sdsFileId: number) => ({
  ...{ code: `HANG-${sdsFileId}`, name: 'Caustic soda', formula: 'NaOH', solute: null, form: 'solid' },
  ...{ assayMassFraction: 0.99, impurityMassFraction: 0, densityKgPerM3: null, hazards: [], supplier: '' },
  ...{ reorderPointKg: null, sdsFileId, notes: '' },
});

test("nobody reads another's file by hanging it on a record of their own", async () => {
  const { id } = (await send('private.stl', textStl(boxFacets(20, 30, 5)))).json<StoredFile>();
  const owner = await huelot.as('owner');
  const measured = await owner({ method: 'POST', url: '/api/measurements', payload: { fileId: id } });
  expect(measured.json()).toMatchObject({ status: 422, issues: [{ path: 'fileId' }] });
  const sheet = await owner({ method: 'POST', url: '/api/chemicals', payload: chemicalWith(id) });
  expect(sheet.statusCode, sheet.body).toBe(422);
  expect(sheet.json<{ detail: string }>().detail).toContain(`there is no file ${id}`);
});

test('a file on a record is read by those who may read the record', async () => {
  const { id } = (await send('sheet.pdf', pdf)).json<StoredFile>();
  const operator = await huelot.as('operator');
  const url = `/api/files/${id}/content`;
  expect((await operator({ url })).statusCode).toBe(404);
  const owner = await huelot.as('owner');
  const mine = await owner({
    method: 'POST',
    url: '/api/files',
    ...multipart({ name: 'sheet.pdf', content: pdf }),
  });
  const hung = mine.json<StoredFile>().id;
  const added = await owner({ method: 'POST', url: '/api/chemicals', payload: chemicalWith(hung) });
  expect(added.statusCode, added.body).toBe(201);
  expect((await operator({ url: `/api/files/${hung}/content` })).statusCode).toBe(200);
});

test('a shared tablet keeps no file that was looked at', async () => {
  const { id } = (await send('look.pdf', pdf)).json<StoredFile>();
  expect((await ask({ url: `/api/files/${id}/content` })).headers['cache-control']).toBe('no-store');
});
