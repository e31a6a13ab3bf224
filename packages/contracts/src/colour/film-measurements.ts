import { z } from 'zod';
import { StoredFile } from '../core/files.ts';
import { TankContents } from '../catalog/steps.ts';
import { defineCommand, defineQuery } from '../kernel/http.ts';
import { Csv, Day, Id, Instant, Line, listQuery, page, PathId, Text } from '../kernel/scalars.ts';
import { CouponSeriesItem, CouponTrial } from './coupons.ts';
import { FilmEvidence, FilmResult } from './film-evidence.ts';

const facts = {
  /** A revision of the series that the coupon belongs to. */
  seriesId: Id,
  /** What is scratched or written on the coupon. */
  mark: Line(40),
  measuredOn: Day,
  /** Who measured, and where. */
  laboratory: Line(200),
  instrument: Text(200),
  evidence: FilmEvidence,
  /** The picture that was clicked on; of other methods a scan of the report, or null. */
  fileId: Id.nullable(),
  note: Text(2000),
  /** What was odd about the figure was looked at again, and is so. */
  isConfirmed: z.boolean().default(false),
};
export const NewFilmMeasurement = z.strictObject(facts);
export type NewFilmMeasurement = z.output<typeof NewFilmMeasurement>;

const Named = z.object({ id: Id, number: z.string() });

const Head = z.object({
  id: Id,
  number: z.string(),
  series: z.object({
    /** Of the revision in force that holds the coupon, or the newest that does; null where its draft was thrown away. */
    id: Id.nullable(),
    code: z.string(),
  }),
  mark: z.string(),
  material: CouponSeriesItem.shape.material,
  measuredOn: Day,
  laboratory: z.string(),
  result: FilmResult,
  enteredBy: z.string(),
  enteredAt: Instant,
  /** What took its place, or took it back; null while it counts. */
  replacedBy: Named.extend({ reason: z.string(), isWithdrawal: z.boolean() }).nullable(),
});

/** A measurement of a film on a list, without what was read. */
export const FilmMeasurementItem = Head.meta({ id: 'FilmMeasurementItem' });
export type FilmMeasurementItem = z.output<typeof FilmMeasurementItem>;

export const FilmMeasurement = Head.extend({
  /** As it stood when the film was measured. */
  coupon: CouponTrial,
  instrument: z.string(),
  evidence: FilmEvidence,
  file: StoredFile.nullable(),
  /** What was odd about it and was confirmed. */
  doubts: z.array(z.string()),
  note: z.string(),
  calcVersion: z.string(),
  replaces: Named.nullable(),
  /** It takes another back, and counts for nothing itself. */
  isWithdrawal: z.boolean(),
  /** Why it replaces another, or takes it back. */
  reason: z.string(),
}).meta({ id: 'FilmMeasurement' });
export type FilmMeasurement = z.output<typeof FilmMeasurement>;

/** One thickness of several methods. */
export const FilmThicknessMean = z.object({
  thicknessNm: z.number(),
  standardUncertaintyNm: z.number(),
  /** How many measurements are in it. */
  measurements: z.int(),
});
export type FilmThicknessMean = z.output<typeof FilmThicknessMean>;

/** A coupon of a series with everything that counts of its film. */
export const CouponFilm = z
  .object({
    series: z.object({
      id: Id,
      code: z.string(),
      revision: z.int(),
      contents: TankContents,
      material: CouponSeriesItem.shape.material,
    }),
    coupon: CouponTrial,
    measurements: z.array(
      FilmMeasurement.extend({
        /** The coupon of that mark is stated otherwise by now: what was measured may be another piece. */
        isOfAnother: z.boolean(),
      }),
    ),
    /** By all measurements of thickness that are of this coupon; null where none is. */
    thickness: FilmThicknessMean.nullable(),
    /** By the approved calibration of the material, at the voltage of the coupon; null where none says so. */
    optical: z
      .object({
        thicknessNm: z.number(),
        standardUncertaintyNm: z.number(),
        intervalNm: z.object({ low: z.number(), high: z.number() }),
        calibration: z.object({ id: Id, code: z.string(), revision: z.int() }),
      })
      .nullable(),
  })
  .meta({ id: 'CouponFilm' });
export type CouponFilm = z.output<typeof CouponFilm>;

const filters = {
  search: listQuery.search,
  /** Of coupons of this series, whatever the revision. */
  seriesId: PathId.optional(),
};

export const listFilmMeasurements = defineQuery({
  name: 'listFilmMeasurements',
  tags: ['colour'],
  path: '/film-measurements',
  access: 'lab.read',
  summary: 'What was measured of films, newest first; what was replaced or withdrawn is left out',
  query: { limit: listQuery.limit, after: listQuery.after, ...filters },
  reply: page(FilmMeasurementItem),
});
export const exportFilmMeasurements = defineQuery({
  name: 'exportFilmMeasurements',
  tags: ['colour'],
  path: '/film-measurements.csv',
  access: 'lab.read',
  summary: 'The list of film measurements as CSV',
  query: filters,
  reply: Csv,
});
export const getFilmMeasurement = defineQuery({
  name: 'getFilmMeasurement',
  tags: ['colour'],
  path: '/film-measurements/:id',
  access: 'lab.read',
  summary: 'One film measurement with what was read',
  params: { id: PathId },
  reply: FilmMeasurement,
});
export const getCouponFilm = defineQuery({
  name: 'getCouponFilm',
  tags: ['colour'],
  path: '/coupon-series/:id/film',
  access: 'lab.read',
  summary: 'A coupon of a series with everything that was measured of its film and counts',
  params: { id: PathId },
  query: { mark: z.string().max(40) },
  reply: CouponFilm,
});
export const createFilmMeasurement = defineCommand({
  name: 'createFilmMeasurement',
  tags: ['colour'],
  path: '/film-measurements',
  access: 'coupons.write',
  summary:
    'Keep a measurement of the film of a coupon; what it gives is reckoned and stands with it. A thickness that is none of this trade, or a thousandfold of another method, asks for confirmation',
  body: NewFilmMeasurement,
  reply: FilmMeasurement,
  status: 201,
});
export const replaceFilmMeasurement = defineCommand({
  name: 'replaceFilmMeasurement',
  tags: ['colour'],
  path: '/film-measurements/:id/replacement',
  access: 'coupons.write',
  summary:
    'Keep a measurement in the place of one by the same method that was entered wrongly, and why; the old one is shown with it and counts no more',
  params: { id: PathId },
  body: z.strictObject({ ...facts, reason: Line(500) }),
  reply: FilmMeasurement,
  status: 201,
});
export const withdrawFilmMeasurement = defineCommand({
  name: 'withdrawFilmMeasurement',
  tags: ['colour'],
  path: '/film-measurements/:id/withdrawal',
  access: 'coupons.write',
  summary: 'Take a measurement back by a row that says why; it stands and counts no more',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: FilmMeasurement,
  status: 201,
});
