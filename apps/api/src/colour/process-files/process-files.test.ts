import { createHash } from 'node:crypto';
import {
  maxProcessFileBytes,
  type AuditEntry,
  type ProcessExport,
  type ProcessFile,
  type ProcessPreview,
  type Provenance,
  type RecipeEvidence,
  type RecipeRevision,
} from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { testApp } from '../../../../../tests/support/app.ts';
import { ok, post } from '../../../../../tests/support/main-line.ts';
import { multipart } from '../../../../../tests/support/multipart.ts';
import { equipShop } from '../../../../../tests/support/shop.ts';
import { canonicalJson } from './canonical.ts';
import { signingKeyOf } from '../../kernel/signing-key.ts';
import { digestsOf, signedBytes } from './signed.ts';

const [there, here] = [await testApp(), await testApp()];
const sender = await there.as('lab');
const receiver = await here.as('lab');
const operator = await here.as('operator');
const shop = await equipShop(there.db);

const outOf = (revisionId: number) => `/recipe-revisions/${revisionId}/process-file`;
const history = async () =>
  (await ok<{ items: AuditEntry[] }>(sender({ url: `/api/history/recipe/${shop.recipeId}` }))).items.filter(
    ({ action }) => action.includes('file of a process'),
  );

let text: string;
let file: ProcessFile;
beforeAll(async () => {
  await there.db.prisma.shop.update({ where: { id: 1 }, data: { name: 'Sending Works' } });
  const note = await ok<{ id: number }>(
    sender({
      method: 'POST',
      url: '/api/files',
      ...multipart({ name: 'trials.txt', content: 'thirty volts, blue' }),
    }),
    201,
  );
  await ok(
    sender({
      method: 'PUT',
      url: `/api/recipe-revisions/${shop.recipeRevisionId}/provenance`,
      payload: { origin: 'own trials', priorArt: 'none known', rights: 'ours', fileIds: [note.id] },
      headers: { 'if-match': '"1"' },
    }),
  );
  const taken = await ok<ProcessExport>(post(sender, outOf(shop.recipeRevisionId), {}));
  expect(taken.name).toMatch(/^R-.*\.process\.json$/);
  text = taken.text;
  file = JSON.parse(text) as ProcessFile;
});

const preview = (body: string) => post(receiver, '/process-files/preview', { text: body });
const fingerprint = async () => {
  const { key } = await ok<{ key: { fingerprint: string } }>(sender({ url: '/api/process-key' }));
  return key.fingerprint;
};
const take = async (body: string, of?: string) =>
  post(receiver, '/process-files', { text: body, fingerprint: of ?? (await fingerprint()) });
const issues = (reply: { json: <T>() => T }) =>
  (reply.json<{ issues?: { path: string; message: string }[] }>().issues ?? []).map(({ path }) => path);
/** The file with something else in it, signed by a key of somebody's. */
function resigned(changes: object): { body: string; fingerprint: string } {
  const key = signingKeyOf(createHash('sha256').update('another').digest());
  const changed = { ...file, ...changes };
  const digests = digestsOf(changed);
  const signature = {
    ...{ algorithm: 'Ed25519', publicKey: key.publicKey, digests },
    value: key.sign(signedBytes(changed, digests)),
  };
  return { body: JSON.stringify({ ...changed, signature }), fingerprint: key.fingerprint };
}
const counts = async () => ({
  recipes: await here.db.prisma.recipe.count(),
  materials: await here.db.prisma.material.count(),
  files: await here.db.prisma.file.count(),
  evidence: await here.db.prisma.recipeEvidence.count(),
  imports: await here.db.prisma.processImport.count(),
});

it('writes objects in one form, whoever wrote them (RFC 8785, 3.2.3)', () => {
  // The sorting example of RFC 8785, without the members whose keys a test file cannot show.
  expect(canonicalJson({ '\u20ac': 'Euro', '1': 'One', '\u0080': 'Control', '\u00f6': 'o' })).toBe(
    '{"1":"One","\u0080":"Control","\u00f6":"o","\u20ac":"Euro"}',
  );
  expect(canonicalJson({ b: [4.5, 2e-3, 1e27], a: null })).toBe('{"a":null,"b":[4.5,0.002,1e+27]}');
});

describe('what leaves', () => {
  it('holds steps with limits and cautions, coupons, provenance and files', () => {
    expect(file.steps.map(({ kind }) => kind)).toEqual(['clean', 'rinse', 'colour', 'inspect']);
    expect(file.steps[2]).toMatchObject({
      settings: [{ quantity: 'voltageV', target: 30, low: 29, high: 31 }],
      cautions: [expect.any(String) as string],
    });
    expect(file.evidence).toMatchObject([{ kind: 'coupons', pieces: 3 }]);
    expect(file.evidence[0]?.series?.trials).toHaveLength(3);
    expect(file.provenance).toEqual({ origin: 'own trials', priorArt: 'none known', rights: 'ours' });
    expect(Buffer.from(file.files[0]?.content ?? '', 'base64').toString()).toBe('thirty volts, blue');
  });

  it('told the names of customers and of the people who made the coupons', () => {
    expect(text).not.toContain(`Customer ${shop.authorId}`);
    expect(text).not.toContain('coupon-author');
    expect(text).not.toContain('approver');
  });

  it('was a draft, or taken by somebody who may not approve', async () => {
    const draft = await there.db.prisma.recipeRevision.create({
      data: { recipeId: shop.recipeId, revision: 2, authorId: shop.authorId },
    });
    const before = await history();
    const reply = await post(sender, outOf(draft.id), {});
    expect(reply.statusCode).toBe(409);
    // What nobody wrote anew it has from the revision before.
    const { origin } = await ok<Provenance>(sender({ url: `/api/recipe-revisions/${draft.id}/provenance` }));
    expect(origin).toBe('own trials');
    const estimator = await there.as('estimator');
    expect((await post(estimator, outOf(shop.recipeRevisionId), {})).statusCode).toBe(403);
    expect(await history()).toEqual(before);
  });

  it('left no word of who took it out, or two where an answer was lost on the way', async () => {
    const before = await history();
    const key = { 'idempotency-key': 'process-file-0001' };
    const [first, again] = [
      await post(sender, outOf(shop.recipeRevisionId), {}, key),
      await post(sender, outOf(shop.recipeRevisionId), {}, key),
    ];
    expect(again.body).toBe(first.body);
    const { name, sha256, text } = first.json<ProcessExport>();
    expect(createHash('sha256').update(text, 'utf8').digest('hex')).toBe(sha256);
    const [entry, ...earlier] = await history();
    expect(earlier).toEqual(before);
    expect(entry).toMatchObject({
      ...{ action: 'took out revision 1 as the file of a process', personName: expect.any(String) as string },
      changes: [
        { field: 'file', new: name },
        { field: 'sha256', new: sha256 },
      ],
    });
  });
});

describe('what is refused, by the name of what does not match', () => {
  it.each([
    ['steps', { steps: [] }],
    ['recipe', { recipe: { name: 'Another' } }],
    ['evidence', { evidence: [] }],
    ['materials', { materials: [] }],
    ['provenance', { provenance: { origin: '', priorArt: '', rights: 'theirs' } }],
    ['files', { files: [] }],
  ])('%s were changed after the signature', async (section, change) => {
    const reply = await preview(JSON.stringify({ ...file, ...change }));
    expect(reply.statusCode).toBe(422);
    expect(issues(reply)).toEqual([`text.${section}`]);
    expect(reply.body).toContain('does not match what was signed');
  });

  it.each([
    ['the name of the shop', { shop: { name: 'Others' } }],
    ['the instant', { exportedAt: '2026-01-01T00:00:00.000Z' }],
  ])('%s was changed', async (_, change) => {
    expect(issues(await preview(JSON.stringify({ ...file, ...change })))).toEqual(['text.signature']);
  });

  it('a changed section was covered up by changing its digest', async () => {
    const changed = { ...file, provenance: { ...file.provenance, rights: 'theirs' } };
    const signature = { ...file.signature, digests: digestsOf(changed) };
    expect(issues(await preview(JSON.stringify({ ...changed, signature })))).toEqual(['text.signature']);
  });

  it.each([
    ['no JSON', 'a letter', 'text'],
    ['another format', '{"format":"else"}', 'text'],
    ['another version', '{"format":"huelot-process","version":2}', 'text.version'],
    ['no signature', '{"format":"huelot-process","version":1}', 'text.signature'],
    ['nothing', '', 'text'],
  ])('%s', async (_, body, path) => {
    const reply = await preview(body);
    expect(reply.statusCode).toBe(422);
    expect(issues(reply)).toEqual([path]);
  });

  it('a file was larger than what is read', async () => {
    const large = await preview('x'.repeat(maxProcessFileBytes + 1));
    expect(large.statusCode).toBe(422);
    expect(issues(large)).toEqual(['text']);
    expect((await preview('x'.repeat(maxProcessFileBytes * 2))).statusCode).toBe(413);
  }, 120_000);

  it('a metal that is unknown here, though well signed, left half of the process', async () => {
    const before = await counts();
    const unknown = resigned({ recipe: { ...file.recipe, baseMetals: ['unobtainium'] } });
    const reply = await take(unknown.body, unknown.fingerprint);
    expect(reply.statusCode).toBe(422);
    expect(issues(reply)).toContain('text.recipe.baseMetals.0');
    const other = resigned({
      files: [{ name: 'run.exe', sha256: file.files[0]?.sha256, content: file.files[0]?.content }],
    });
    // Its recipe and materials were written before the file was looked at.
    expect((await take(other.body, other.fingerprint)).statusCode).toBe(422);
    expect(await counts()).toEqual(before);
  });

  it('a key other than the one that was compared', async () => {
    const strange = resigned({});
    const reply = await take(strange.body);
    expect(reply.statusCode).toBe(422);
    expect(issues(reply)).toEqual(['fingerprint']);
  });
});

describe('taken over in another shop', () => {
  let taken: { recipeId: number; revisionId: number; number: string };
  const evidence = () =>
    ok<RecipeEvidence>(receiver({ url: `/api/recipe-revisions/${taken.revisionId}/evidence` }));

  beforeAll(async () => {
    const seen = await ok<ProcessPreview>(preview(text));
    expect(seen).toMatchObject({
      ...{ shop: 'Sending Works', stepCount: 4, files: ['trials.txt'], rights: 'ours' },
      ...{ fingerprint: await fingerprint(), evidence: [{ pieces: 3 }] },
    });
    expect(seen.newMaterials).toHaveLength(1);
    taken = await ok(take(text), 201);
  });

  it('is a draft with the same steps, its provenance and its files', async () => {
    const draft = await ok<RecipeRevision>(receiver({ url: `/api/recipe-revisions/${taken.revisionId}` }));
    expect(draft.status).toBe('draft');
    expect(draft.steps).toEqual(file.steps);
    const provenance = await ok<Provenance>(
      receiver({ url: `/api/recipe-revisions/${taken.revisionId}/provenance` }),
    );
    expect(provenance).toMatchObject({
      ...{ origin: 'own trials', rights: 'ours', files: [{ name: 'trials.txt' }] },
      takenOver: { shop: 'Sending Works', fingerprint: await fingerprint() },
    });
    const content = await operator({ url: `/api/files/${provenance.files[0]?.id}/content` });
    expect(content.body).toBe('thirty volts, blue');
  });

  it('was taken as proved here: it shows what was proved where, and satisfies no gate', async () => {
    const { items, provedOn, approvalNeeds } = await evidence();
    expect(provedOn).toEqual([]);
    expect(items).toMatchObject([
      { kind: 'elsewhere', elsewhere: { shop: 'Sending Works', provedBy: 'coupons' }, pieces: 3 },
    ]);
    expect(items[0]?.gaps.join()).toContain('proved at Sending Works on');
    expect(approvalNeeds.join()).toContain('not here: it takes a first article');
    const approver = await here.as('quality');
    const draft = await ok<RecipeRevision>(receiver({ url: `/api/recipe-revisions/${taken.revisionId}` }));
    const approve = await post(
      approver,
      `/recipe-revisions/${taken.revisionId}/approve`,
      {},
      { 'if-match': `"${draft.version}"` },
    );
    expect(approve.statusCode).toBe(409);
    expect(approve.json()).toMatchObject({ code: 'not-proved' });
  });

  it('came a second time', async () => {
    const reply = await take(text);
    expect(reply.statusCode).toBe(409);
    expect(reply.json<{ detail: string }>().detail).toContain(taken.number);
  });

  it('had an alloy that goes by the same name and is another metal here', async () => {
    const name = file.materials[0]?.name ?? '';
    const own = await here.db.prisma.material.create({
      data: {
        ...{ name, condition: 'hard', baseMetal: 'steel', densityKgPerM3: 7850, heatCapacityJPerKgK: 490 },
        ...{ source: 'test', evidence: 'M' },
      },
    });
    const hard = { condition: 'hard' };
    const changed = resigned({
      materials: file.materials.map((material) => ({ ...material, ...hard })),
      evidence: file.evidence.map((row) => ({ ...row, alloy: { ...row.alloy, ...hard } })),
    });
    const before = await counts();
    const reply = await take(changed.body, changed.fingerprint);
    expect(reply.statusCode).toBe(422);
    expect(issues(reply)).toEqual(['text.materials.0.baseMetal']);
    expect(await counts()).toEqual(before);
    expect(own.baseMetal).toBe('steel');
  });
});

it('wrote over what somebody else had written of the provenance', async () => {
  const put = (version: number, rights: string) =>
    sender({
      method: 'PUT',
      url: `/api/recipe-revisions/${shop.recipeRevisionId}/provenance`,
      payload: { origin: '', priorArt: '', rights, fileIds: [] },
      headers: { 'if-match': `"${version}"` },
    });
  expect((await put(1, 'late')).statusCode).toBe(412);
  await ok(put(2, 'in time'));
});
