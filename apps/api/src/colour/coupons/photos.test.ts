import type { CouponSeries, StoredFile } from '@huelot/contracts';
import { expect, it } from 'vitest';
import { testApp } from '../../../../../tests/support/app.ts';
import { ok, post } from '../../../../../tests/support/main-line.ts';
import { multipart } from '../../../../../tests/support/multipart.ts';

const { as, db } = await testApp();
const [lena, quentin, omar] = [await as('lab'), await as('quality'), await as('operator')];
const material = await db.prisma.material.create({
  data: {
    ...{ name: 'Titanium', condition: '', baseMetal: 'titanium', densityKgPerM3: 4510 },
    ...{ heatCapacityJPerKgK: 524, source: 'test', evidence: 'M' },
  },
});
/** The smallest PNG: one pixel. */
const png = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
  'base64',
);
const sent = async (name: string, content: Buffer | string = png, ask = lena) =>
  ok<StoredFile>(ask({ method: 'POST', url: '/api/files', ...multipart({ name, content }) }), 201);
const marks = [
  { x: 0.1, y: 0.5, label: 'ref' },
  { x: 0.4, y: 0.5, label: '1' },
];
const series = (photos: object[]) => ({
  ...{ code: 'TI-PHOTO', name: 'A strip', materialId: material.id, contents: 'mild-salt' },
  ...{ component: 'Na3PO4', unit: 'gramsPerLitre', referenceTemperatureC: 20, preparation: '', notes: '' },
  ...{ changeNote: '', photos },
  trials: [
    {
      ...{ mark: '1', temperatureC: 21, voltageV: 28, timeS: 60, strength: 30, outcome: 'interference' },
      ...{ lab: { L: 40, a: 8, b: -30 }, madeOn: '2026-03-02', madeBy: 'Lena' },
    },
  ],
});
const put = ({ id, version }: CouponSeries, photos: object[]) =>
  lena({
    ...{ method: 'PUT' as const, url: `/api/coupon-series/${id}`, payload: series(photos) },
    headers: { 'if-match': `"${version}"` },
  });
const paths = (reply: { json: <T>() => T }) =>
  (reply.json<{ issues?: { path: string }[] }>().issues ?? []).map(({ path }) => path);

let draft: CouponSeries;
it('the photo of a strip stayed on the screen it was read from, and nobody saw again what was clicked', async () => {
  const photo = await sent('strip.png');
  draft = await ok(post(lena, '/coupon-series', series([{ fileId: photo.id, marks }])), 201);
  expect(draft.photos).toMatchObject([{ file: { name: 'strip.png' }, marks }]);
  const content = await omar({ url: `/api/files/${photo.id}/content` });
  expect(content.rawPayload.equals(png)).toBe(true);
  const { attachedAt } = await db.prisma.file.findUniqueOrThrow({ where: { id: photo.id } });
  expect(attachedAt).not.toBeNull();
});

it('was no picture, a file of somebody else, the same one twice, or marked beside itself', async () => {
  const fileId = draft.photos[0]?.file.id ?? 0;
  const text = await sent('strip.txt', 'blue');
  const others = await sent('other.png', png, quentin);
  for (const [photos, path] of [
    [[{ fileId: text.id, marks: [] }], 'photos.0.fileId'],
    [[{ fileId: others.id, marks: [] }], 'photos.0.fileId'],
    [[{ fileId: 999_999, marks: [] }], 'photos.0.fileId'],
    [
      [
        { fileId, marks },
        { fileId, marks },
      ],
      'photos.1.fileId',
    ],
    [[{ fileId, marks: [{ x: 1.2, y: 0, label: '1' }] }], 'photos.0.marks.0.x'],
  ] as const) {
    const reply = await put(draft, [...photos]);
    expect(reply.statusCode, reply.body).toBe(422);
    expect(paths(reply)).toEqual([path]);
  }
  const kept = await ok<CouponSeries>(put(draft, [{ fileId, marks: marks.slice(1) }]));
  expect(kept.photos).toMatchObject([{ marks: [{ label: '1' }] }]);
  draft = kept;
});

it('was changed after its series was approved, or lost on the way into the next revision', async () => {
  const approved = await ok<CouponSeries>(
    post(quentin, `/coupon-series/${draft.id}/approve`, {}, { 'if-match': `"${draft.version}"` }),
  );
  for (const statement of [
    `update "coupon_photo" set "marks" = '[]'`,
    `delete from "coupon_photo"`,
    `insert into "coupon_photo" ("seriesId", "position", "fileId") values (${approved.id}, 2, ${draft.photos[0]?.file.id})`,
  ])
    await expect(db.pool.query(statement)).rejects.toMatchObject({ code: 'HU001' });
  const next = await ok<CouponSeries>(
    post(quentin, `/coupon-series/${approved.id}/revisions`, { changeNote: 'again' }),
    201,
  );
  expect(next.photos).toEqual(approved.photos);
  const gone = await lena({
    ...{ method: 'DELETE' as const, url: `/api/coupon-series/${next.id}`, payload: {} },
    headers: { 'if-match': `"${next.version}"` },
  });
  expect(gone.statusCode, gone.body).toBe(200);
  expect(await db.prisma.couponPhoto.count()).toBe(1);
});
