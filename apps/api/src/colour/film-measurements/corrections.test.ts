import type {
  CouponFilm,
  CouponSeries,
  FilmMeasurement,
  FilmMeasurementItem,
  ProcessMap,
  StoredFile,
} from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { testApp, type TestApp } from '../../../../../tests/support/app.ts';
import {
  coatingMass,
  crossSection,
  measurement,
  pores,
  sectionPicture,
} from '../../../../../tests/support/film.ts';
import { post } from '../../../../../tests/support/lab.ts';
import { multipart } from '../../../../../tests/support/multipart.ts';
import { rewriteSeries, steelCoupon, steelSeries } from '../../../../../tests/support/steel-coupons.ts';

type Person = Awaited<ReturnType<TestApp['as']>>;
const { as, db } = await testApp();
let lab: Person;
let quality: Person;
let series: CouponSeries;
let fileId: number;
const url = '/api/film-measurements';
const coupons = [steelCoupon({ mark: 'A1' }), steelCoupon({ mark: 'A2', timeS: 900 })];
beforeAll(async () => {
  [lab, quality] = [await as('lab'), await as('quality')];
  series = await steelSeries(lab, { code: 'ST-FIX', trials: coupons });
  const sent = await lab({
    method: 'POST',
    url: '/api/files',
    ...multipart({ name: 'a.png', content: sectionPicture }),
  });
  fileId = sent.json<StoredFile>().id;
});
const facts = (extra: Partial<Parameters<typeof measurement>[0]> = {}) =>
  measurement({ seriesId: series.id, evidence: crossSection(), fileId, ...extra });
const filmOf = async (mark: string, id = series.id) =>
  (await lab({ url: `/api/coupon-series/${id}/film?mark=${mark}` })).json<CouponFilm>();
const idsOf = async (mark: string) => (await filmOf(mark)).measurements.map(({ id }) => id);

describe('a measurement that was wrong', () => {
  it('is replaced once, with a reason; the old one stands, points to the new and counts no more', async () => {
    const wrong = await post<FilmMeasurement>(lab, url, facts({ mark: 'A2' }));
    const payload = { ...facts(), reason: 'it was A1 that was cut' };
    const replies = await Promise.all(
      [1, 2].map(() => lab({ method: 'POST', url: `${url}/${wrong.id}/replacement`, payload })),
    );
    expect(replies.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
    const old = (await lab({ url: `${url}/${wrong.id}` })).json<FilmMeasurement>();
    expect(old).toMatchObject({
      mark: 'A2',
      replacedBy: { reason: 'it was A1 that was cut', isWithdrawal: false },
    });
    expect(await idsOf('A2')).not.toContain(wrong.id);
    expect(await idsOf('A1')).toContain(old.replacedBy?.id);
    const { items } = (await lab({ url })).json<{ items: FilmMeasurementItem[] }>();
    expect(items.map(({ id }) => id)).not.toContain(wrong.id);
  });

  it('stays of its method, and says why it is replaced', async () => {
    const { id } = await post<FilmMeasurement>(lab, url, facts());
    const replace = (payload: object) => lab({ method: 'POST', url: `${url}/${id}/replacement`, payload });
    const other = await replace({ ...facts({ evidence: pores(), fileId: null }), reason: 'x' });
    expect(other.json<{ issues: { path: string }[] }>().issues[0]?.path).toBe('evidence.kind');
    expect((await replace({ ...facts(), reason: ' ' })).statusCode).toBe(422);
  });

  it('keeps its picture for whoever replaces it, also where somebody else sent that', async () => {
    const { id } = await post<FilmMeasurement>(lab, url, facts());
    const reply = await quality({
      ...{ method: 'POST', url: `${url}/${id}/replacement` },
      payload: { ...facts(), reason: 'one pair lay on the resin' },
    });
    expect(reply.statusCode, reply.body).toBe(201);
    expect(reply.json<FilmMeasurement>().file?.id).toBe(fileId);
  });

  it('is taken back by a row that says why, which nothing takes back again', async () => {
    const { id, number } = await post<FilmMeasurement>(lab, url, facts());
    const withdraw = (of: number) =>
      lab({ method: 'POST', url: `${url}/${of}/withdrawal`, payload: { reason: 'the film smeared' } });
    const withdrawal = (await withdraw(id)).json<FilmMeasurement>();
    expect(withdrawal).toMatchObject({
      isWithdrawal: true,
      replaces: { id, number },
      reason: 'the film smeared',
    });
    expect(await idsOf('A1')).not.toContain(id);
    expect(await idsOf('A1')).not.toContain(withdrawal.id);
    for (const again of [id, withdrawal.id]) expect((await withdraw(again)).statusCode).toBe(409);
    const { items } = (await lab({ url: `/api/history/film-measurement/${withdrawal.id}` })).json<{
      items: { action: string; reason: string }[];
    }>();
    expect(items[0]).toMatchObject({ action: `took back ${number}`, reason: 'the film smeared' });
  });

  it('cannot be changed or removed behind the service', async () => {
    const { id } = await post<FilmMeasurement>(lab, url, facts());
    await expect(
      db.prisma.filmMeasurement.update({ where: { id }, data: { thicknessNm: 1 } }),
    ).rejects.toThrow();
    await expect(db.prisma.filmMeasurement.delete({ where: { id } })).rejects.toThrow();
  });
});

describe('a measurement and its coupon', () => {
  it('is on the process map with its uncertainty, and leaves it when the mark goes to another piece', async () => {
    const other = await steelSeries(lab, { code: 'ST-MARK', trials: coupons });
    await post(lab, url, facts({ seriesId: other.id }));
    await post(
      lab,
      url,
      facts({ seriesId: other.id, evidence: coatingMass({ massBeforeG: 12.05 }), fileId: null }),
    );
    const trialOf = async (mark: string) =>
      (await lab({ url: `/api/process-maps/${other.id}` }))
        .json<ProcessMap>()
        .trials.find((trial) => trial.seriesId === other.id && trial.mark === mark);
    expect((await trialOf('A1'))?.thickness).toMatchObject({ measurements: 2 });
    expect((await trialOf('A2'))?.thickness).toBeNull();

    await rewriteSeries(lab, other, [
      steelCoupon({ mark: 'A1', temperatureC: 71 }),
      coupons[1] ?? steelCoupon({}),
    ]);
    expect((await trialOf('A1'))?.thickness).toBeNull();
    const film = await filmOf('A1', other.id);
    expect(film.measurements.map(({ isOfAnother }) => isOfAnother)).toEqual([true, true]);
    expect(film.thickness).toBeNull();
  });

  it('points to the revision that holds its coupon: the draft, where that alone does', async () => {
    const first = await steelSeries(lab, { code: 'ST-NEXT', trials: coupons });
    const approved = await quality({
      ...{ method: 'POST', url: `/api/coupon-series/${first.id}/approve`, payload: {} },
      headers: { 'if-match': `"${first.version}"` },
    });
    expect(approved.statusCode, approved.body).toBe(200);
    const revised = { changeNote: 'one more' };
    const draft = await post<CouponSeries>(lab, `/api/coupon-series/${first.id}/revisions`, revised);
    await rewriteSeries(lab, draft, [...coupons, steelCoupon({ mark: 'A3', timeS: 1200 })]);
    const added = await post<FilmMeasurement>(lab, url, facts({ seriesId: draft.id, mark: 'A3' }));
    const old = await post<FilmMeasurement>(lab, url, facts({ seriesId: draft.id, mark: 'A1' }));
    expect([added.series.id, old.series.id]).toEqual([draft.id, first.id]);
  });

  it('stands when the draft of its series is thrown away', async () => {
    const draft = await steelSeries(lab, { code: 'ST-GONE', trials: coupons });
    const { id } = await post<FilmMeasurement>(lab, url, facts({ seriesId: draft.id }));
    const gone = await lab({
      ...{ method: 'DELETE', url: `/api/coupon-series/${draft.id}`, payload: {} },
      headers: { 'if-match': `"${draft.version}"` },
    });
    expect(gone.statusCode).toBeLessThan(300);
    const kept = (await lab({ url: `${url}/${id}` })).json<FilmMeasurement>();
    expect(kept).toMatchObject({ series: { id: null, code: 'ST-GONE' }, coupon: { mark: 'A1' } });
  });
});
