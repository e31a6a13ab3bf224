import type {
  CouponFilm,
  CouponSeries,
  FilmMeasurement,
  FilmMeasurementItem,
  Material,
  StoredFile,
} from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { testApp, type TestApp } from '../../../../../tests/support/app.ts';
import {
  coatingMass,
  crossSection,
  diffraction,
  measurement,
  pores,
  sectionPicture,
} from '../../../../../tests/support/film.ts';
import { post } from '../../../../../tests/support/lab.ts';
import { multipart } from '../../../../../tests/support/multipart.ts';
import { steelCoupon, steelSeries } from '../../../../../tests/support/steel-coupons.ts';

type Person = Awaited<ReturnType<TestApp['as']>>;
const { as, db } = await testApp();
let lab: Person;
let quality: Person;
let operator: Person;
let series: CouponSeries;
let fileId: number;
const url = '/api/film-measurements';
const send = async (name: string, content: Buffer | string, ask = lab) => {
  const reply = await ask({ method: 'POST', url: '/api/files', ...multipart({ name, content }) });
  return reply.json<StoredFile>();
};
beforeAll(async () => {
  [lab, quality, operator] = [await as('lab'), await as('quality'), await as('operator')];
  series = await steelSeries(lab, {
    code: 'ST-FILM',
    trials: [
      steelCoupon({ mark: 'A1' }),
      steelCoupon({ mark: 'A2', timeS: 900 }),
      steelCoupon({ mark: 'B', timeS: 60 }),
      steelCoupon({ mark: 'B', timeS: 120 }),
      steelCoupon({ mark: '', timeS: 30 }),
    ],
  });
  fileId = (await send('section.png', sectionPicture)).id;
});

const keep = (extra: Partial<Parameters<typeof measurement>[0]> = {}) =>
  post<FilmMeasurement>(
    lab,
    url,
    measurement({ seriesId: series.id, evidence: crossSection(), fileId, ...extra }),
  );
const refused = async (extra: object) => {
  const before = await db.prisma.filmMeasurement.count();
  const payload = { ...measurement({ seriesId: series.id, evidence: crossSection(), fileId }), ...extra };
  const reply = await lab({ method: 'POST', url, payload });
  expect(reply.statusCode, reply.body).toBe(422);
  expect(await db.prisma.filmMeasurement.count()).toBe(before);
  return reply.json<{ issues?: { path: string; message: string }[] }>().issues ?? [];
};

describe('a measurement of a film', () => {
  it('is kept with what it gives: 20 nm a pixel over pairs of 100 are 2 µm, 37.5 nm of standard uncertainty by hand', async () => {
    const kept = await keep();
    expect(kept.number).toMatch(/^FM-\d+$/);
    expect(kept).toMatchObject({
      ...{ series: { id: series.id, code: 'ST-FILM' }, mark: 'A1', file: { name: 'section.png' } },
      coupon: { mark: 'A1', temperatureC: 52 },
    });
    expect(kept.result.kind === 'cross-section' && kept.result.thicknessNm).toBeCloseTo(2000, 8);
    // 0.2 µm with k = 2 is 0.1 µm standard.
    expect(kept.result.kind === 'cross-section' && kept.result.standardUncertaintyNm).toBeCloseTo(
      Math.sqrt(1408),
      8,
    );
    expect((await lab({ url: `${url}/${kept.id}` })).json()).toEqual(kept);
    const { attachedAt } = await db.prisma.file.findUniqueOrThrow({ where: { id: fileId } });
    expect(attachedAt).not.toBeNull();
  });

  it('by stripping, diffraction and pores stands beside it, with one thickness of all', async () => {
    await keep({ mark: 'A2', evidence: coatingMass(), fileId: null });
    await keep({ mark: 'A2', evidence: coatingMass({ massBeforeG: 12.027 }), fileId: null });
    await keep({ mark: 'A2', evidence: diffraction(), fileId: null });
    await keep({ mark: 'A2', evidence: pores(), fileId: null });
    const film = (await operator({ url: `/api/coupon-series/${series.id}/film?mark=A2` })).json<CouponFilm>();
    expect(film.measurements.map(({ result }) => result.kind)).toEqual([
      ...['coating-mass', 'coating-mass', 'diffraction', 'pores'],
    ]);
    expect(film.measurements.every(({ isOfAnother }) => !isOfAnother)).toBe(true);
    const figures = film.measurements.flatMap(({ result }) => ('thicknessNm' in result ? [result] : []));
    const weights = figures.map(({ standardUncertaintyNm }) => standardUncertaintyNm ** -2);
    const sum = (values: number[]) => values.reduce((total, one) => total + one, 0);
    expect(film.thickness?.measurements).toBe(2);
    expect(film.thickness?.thicknessNm).toBeCloseTo(
      sum(figures.map(({ thicknessNm }, index) => thicknessNm * (weights[index] ?? 0))) / sum(weights),
      8,
    );
  });

  it('is listed by its series, found by its mark, and leaves as CSV', async () => {
    const listed = async (query: string) =>
      (await operator({ url: `${url}?${query}` })).json<{ items: FilmMeasurementItem[] }>().items;
    expect((await listed(`seriesId=${series.id}&search=A1`)).map(({ mark }) => mark)).toEqual(['A1']);
    expect(await listed('seriesId=999999')).toEqual([]);
    const csv = (await lab({ url: `${url}.csv` })).body;
    expect(csv.split('\n')[0]).toContain('thicknessLowNm');
    expect(csv).toContain('magnetite');
  });

  it('is read by an operator and entered by none', async () => {
    const payload = measurement({ seriesId: series.id, evidence: pores() });
    expect((await operator({ method: 'POST', url, payload })).statusCode).toBe(403);
    expect((await operator({ url })).statusCode).toBe(200);
  });

  it('of a coupon that is not there is none', async () => {
    expect((await lab({ url: `/api/coupon-series/${series.id}/film?mark=Z9` })).statusCode).toBe(404);
    expect((await lab({ url: `/api/coupon-series/${series.id}/film?mark=` })).statusCode).toBe(404);
    expect((await lab({ url: `/api/coupon-series/999999/film?mark=A1` })).statusCode).toBe(404);
  });
});

describe('what is no measurement is refused, by the field, with nothing kept', () => {
  const scale = {
    from: { x: 10, y: 470 },
    to: { x: 510, y: 470 },
    lengthUm: 10,
    lengthUncertaintyUm: { value: 0, coverageFactor: null },
  };
  const pair = { from: { x: 0, y: 0 }, to: { x: 0, y: 90 } };
  it.each<[string, object, string]>([
    [
      'a scale of no length',
      { evidence: crossSection({ scale: { ...scale, to: scale.from } }) },
      'evidence.scale',
    ],
    [
      'a bar of nothing',
      { evidence: crossSection({ scale: { ...scale, lengthUm: 0 } }) },
      'evidence.scale.lengthUm',
    ],
    ['one pair alone', { evidence: crossSection({ pairs: [pair] }) }, 'evidence.pairs'],
    [
      'two clicks on one place',
      { evidence: crossSection({ pairs: [pair, { from: pair.to, to: pair.to }] }) },
      'evidence.pairs.1',
    ],
    [
      'clicks beside the picture',
      { evidence: crossSection({ pairs: [pair, { ...pair, to: { x: 0, y: 700 } }] }) },
      'evidence.pairs',
    ],
    ['no picture', { fileId: null }, 'fileId'],
    ['a file that is none', { fileId: 999_999 }, 'fileId'],
    [
      'a piece that got heavier',
      { evidence: coatingMass({ massBeforeG: 11.9 }), fileId: null },
      'evidence.massesAfterG.1',
    ],
    ['an area of nothing', { evidence: coatingMass({ areaMm2: 0 }), fileId: null }, 'evidence.areaMm2'],
    ['porosity in per cent', { evidence: coatingMass({ porosity: 30 }), fileId: null }, 'evidence.porosity'],
    [
      'ratios out of nowhere',
      { evidence: diffraction({ referenceRatios: { magnetite: 4.9 } }), fileId: null },
      'evidence.ratioSource',
    ],
    [
      'a ratio of a phase without a peak',
      { evidence: diffraction({ referenceRatios: { goethite: 2.7 }, ratioSource: 'a card' }), fileId: null },
      'evidence.referenceRatios.goethite',
    ],
    [
      'a share of pores above one',
      { evidence: pores({ areaFraction: 20 }), fileId: null },
      'evidence.areaFraction',
    ],
    [
      'a diameter without its uncertainty',
      { evidence: pores({ meanDiameterUncertaintyNm: null }), fileId: null },
      'evidence.meanDiameterUncertaintyNm',
    ],
    [
      'a coverage factor of a half',
      { evidence: pores({ areaFractionUncertainty: { value: 1, coverageFactor: 0.5 } }), fileId: null },
      'evidence.areaFractionUncertainty.coverageFactor',
    ],
    ['another kind of evidence', { evidence: { kind: 'hearsay' }, fileId: null }, 'evidence.kind'],
    ['a series that is none', { seriesId: 999_999 }, 'seriesId'],
    ['a coupon that is none', { mark: 'Z9' }, 'mark'],
    ['two coupons of one mark', { mark: 'B' }, 'mark'],
    ['no mark', { mark: '' }, 'mark'],
    ['the future', { measuredOn: '2999-01-01' }, 'measuredOn'],
    ['a day before the coupon was made', { measuredOn: '2026-03-01' }, 'measuredOn'],
  ])('%s', async (_, extra, path) => {
    expect((await refused(extra)).map((issue) => issue.path)).toEqual([path]);
  });

  it('a text, a PDF and somebody else’s picture are no cross-section', async () => {
    const text = await send('section.txt', 'grey');
    const pdf = await send('section.pdf', '%PDF-1.7\n');
    const others = await send('other.png', sectionPicture, quality);
    for (const { id } of [text, pdf, others])
      expect((await refused({ fileId: id })).map(({ path }) => path)).toEqual(['fileId']);
    const broken = await lab({
      method: 'POST',
      url: '/api/files',
      ...multipart({ name: 'x.png', content: 'no' }),
    });
    expect(broken.statusCode).toBe(422);
  });
});

describe('a thickness that a unit may have slipped in', () => {
  it('asks for confirmation where it is no film of this trade, and keeps what was odd', async () => {
    const scale = {
      from: { x: 10, y: 470 },
      to: { x: 510, y: 470 },
      lengthUm: 10_000,
      lengthUncertaintyUm: { value: 0, coverageFactor: null },
    };
    const evidence = crossSection({ scale });
    const [issue] = await refused({ mark: 'A1', evidence });
    expect(issue?.path).toBe('isConfirmed');
    expect(issue?.message).toContain('2 mm');
    expect(issue?.message).toContain('1 nm to 100 µm');
    const kept = await keep({ evidence, isConfirmed: true });
    expect(kept.doubts.join()).toContain('2 mm');
  });

  it('asks where another method of the same coupon gave a thousandth, which no range of its own would tell', async () => {
    const other = await steelSeries(lab, { code: 'ST-SLIP', trials: [steelCoupon({ mark: 'A1' })] });
    const asked = (massBeforeG: number, weighed = 0.0000005) => ({
      ...{ seriesId: other.id, fileId: null },
      evidence: coatingMass({
        ...{ massBeforeG, massesAfterG: [12, 12] },
        weighingUncertaintyG: { value: weighed, coverageFactor: null },
      }),
    });
    await keep(asked(12.0012));
    const [issue] = await refused(asked(13.2));
    expect(issue?.path).toBe('isConfirmed');
    expect(issue?.message).toContain('did a unit slip');
  });
});

describe('the loss of a seal', () => {
  const evidence = {
    ...{ kind: 'seal-loss' as const, massBeforeG: 27.2154, massAfterG: 27.1954, areaMm2: 10_000 },
    weighingUncertaintyG: { value: 0.0001, coverageFactor: null },
    areaUncertaintyMm2: { value: 200, coverageFactor: 2 },
    ...{ acidTemperatureC: 38, immersionMin: 15, acid: 'phosphoric' },
  };

  it('is kept beside coupons of aluminium with its verdict: 20 mg/dm² of 30', async () => {
    const { items } = (await lab({ url: '/api/materials?limit=200' })).json<{ items: Material[] }>();
    const other = await steelSeries(lab, {
      ...{ code: 'AL-SEAL', trials: [steelCoupon({ mark: 'A1', voltageV: 16, temperatureC: 20 })] },
      facts: {
        ...{ contents: 'sulfuric-anodize', component: 'H2SO4' },
        materialId: items.find(({ baseMetal }) => baseMetal === 'aluminium')?.id ?? 0,
      },
    });
    const kept = await keep({ seriesId: other.id, evidence, fileId: null });
    expect(kept.result).toMatchObject({ kind: 'seal-loss', verdict: 'pass', limitMgPerDm2: 30 });
    const film = (await lab({ url: `/api/coupon-series/${other.id}/film?mark=A1` })).json<CouponFilm>();
    expect(film.thickness).toBeNull();
    expect((await lab({ url: `${url}.csv` })).body).toContain(',pass,');
    const heavier = { ...evidence, massAfterG: 27.3 };
    expect(
      (await refused({ seriesId: other.id, evidence: heavier, fileId: null })).map(({ path }) => path),
    ).toEqual(['evidence.massAfterG']);
  });

  it('of steel is none', async () => {
    expect((await refused({ evidence, fileId: null })).map(({ path }) => path)).toEqual(['evidence.kind']);
  });
});
