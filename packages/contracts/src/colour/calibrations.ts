import { z } from 'zod';
import { BaseMetal } from '../catalog/base-metals.ts';
import { RecipeRevisionRef } from '../catalog/recipes.ts';
import { TankContents } from '../catalog/steps.ts';
import { Approval, ApprovalBody, RevisionStatus } from '../core/approvals.ts';
import { defineCommand, defineQuery, EmptyBody, EmptyReply } from '../kernel/http.ts';
import { Id, Instant, Lab, Line, listQuery, page, PathId, Text, Version } from '../kernel/scalars.ts';
import { type CouponSeries, trialDecides } from './coupons.ts';
import { CalibrationFit, CalibrationVerdict } from './calibration-fit.ts';

/** Metals whose colour follows the voltage: only of these there is a calibration. */
export const calibratedMetals = [
  'titanium',
  'niobium',
  'tantalum',
  'zirconium',
] as const satisfies readonly BaseMetal[];
export type CalibratedMetal = (typeof calibratedMetals)[number];

const code = z
  .string()
  .trim()
  .regex(/^[\p{L}\p{N}][\p{L}\p{N}._-]{0,19}$/u, 'must be 1 to 20 letters, digits, dots or dashes');

const Coupon = z.object({
  seriesId: Id,
  /** Code and revision of its series. */
  series: z.string(),
  position: z.int().positive(),
  mark: z.string(),
  voltageV: z.number(),
  lab: Lab,
  /** Why it was left out; null where the law rests on it. */
  rejected: z.string().nullable(),
});
export type CalibrationCoupon = z.output<typeof Coupon>;

const facts = {
  name: Line(100),
  /** Names of sets of optical constants, of the oxide and of the metal. */
  film: Line(60),
  substrate: Line(60),
  /** Of the instrument: 8 of a sphere that reads at 8°. */
  angleDeg: z.number().min(0).max(80),
  /** Pores in the film: 0 of a barrier film. */
  voidFraction: z.number().min(0).max(0.9),
  /** How the surface was prepared, and its condition. */
  surface: Line(500),
  notes: Text(4000),
  changeNote: Text(1000),
};

const OrdersCounted = z.strictObject({ thicknessNm: z.number().min(1).max(5000), reason: Line(300) });

export const NewCalibration = z.strictObject({
  code,
  ...facts,
  /** Approved series of one material in one kind of bath. Every coupon of them that was measured counts, or is rejected. */
  seriesIds: z.array(Id).min(1, 'needs at least one series').max(20),
  rejected: z
    .array(z.strictObject({ seriesId: Id, position: z.int().positive(), reason: Line(300) }))
    .max(200),
  /** How thick the film of the highest coupon is, known from elsewhere and why: it decides how the orders are counted. */
  counted: OrdersCounted.nullable().default(null),
});
export type NewCalibration = z.output<typeof NewCalibration>;

const Signed = z.object({ id: Id, displayName: z.string() });
const Head = z.object({
  id: Id,
  code: z.string(),
  revision: z.int().positive(),
  status: RevisionStatus,
  ...facts,
  name: z.string(),
  film: z.string(),
  substrate: z.string(),
  surface: z.string(),
  contents: TankContents,
  material: z.object({ id: Id, name: z.string(), condition: z.string(), baseMetal: BaseMetal }),
  verdict: CalibrationVerdict,
  couponCount: z.int(),
  rejectedCount: z.int(),
  lowestVoltageV: z.number(),
  highestVoltageV: z.number(),
  slopeNmPerV: z.number(),
  residualDeltaE: z.number(),
  /** Since when readings have left it, of an approved one; null while it holds. */
  expiredAt: Instant.nullable(),
  author: z.string(),
  createdAt: Instant,
  approvedBy: z.string().nullable(),
  approvedAt: Instant.nullable(),
  /** Approved by one of its writers, because nobody else may approve. */
  selfApproved: z.boolean(),
  version: Version,
});

/**
 * The coupons of a series that say what a voltage gives: coloured by interference, with a voltage, and measured or compared; with
 * the reason of those that are left out.
 *
 * @example
 * calibrationCoupons(series, [{ seriesId: series.id, position: 4, reason: 'not etched' }])
 */
export const calibrationCoupons = (
  { id, code, revision, trials }: Pick<CouponSeries, 'id' | 'code' | 'revision' | 'trials'>,
  rejected: NewCalibration['rejected'],
): CalibrationCoupon[] =>
  trials.flatMap(({ mark, voltageV, lab, grade, outcome }, index): CalibrationCoupon[] => {
    const decides = outcome === 'interference' && trialDecides({ grade, lab });
    if (voltageV === null || lab === null || !decides) return [];
    const position = index + 1;
    const why = rejected.find((one) => one.seriesId === id && one.position === position)?.reason ?? null;
    return [
      { seriesId: id, series: `${code} rev ${revision}`, position, mark, voltageV, lab, rejected: why },
    ];
  });

/** A calibration on a list. */
export const CalibrationItem = Head.meta({ id: 'CalibrationItem' });
export type CalibrationItem = z.output<typeof CalibrationItem>;

/** One revision of a calibration with its coupons and its law, and the revisions beside it. */
export const Calibration = Head.extend({
  seriesIds: z.array(Id),
  coupons: z.array(Coupon),
  counted: OrdersCounted.nullable(),
  fit: CalibrationFit,
  calcVersion: z.string(),
  /** Everybody who wrote in it, the author first. None of them approves it where a second person may. */
  writers: z.array(Signed),
  endedAt: Instant.nullable(),
  endReason: z.string(),
  revisions: z.array(z.object({ id: Id, revision: z.int(), status: RevisionStatus, changeNote: z.string() })),
}).meta({ id: 'Calibration' });
export type Calibration = z.output<typeof Calibration>;

/** Colours measured since a calibration was approved, on its material and in its bath, beside the colour of its law. */
export const CalibrationDrift = z
  .object({
    points: z.array(
      z.object({
        at: Instant,
        /** A coupon that it does not rest on, or a lot. */
        source: z.enum(['coupon', 'lot']),
        label: z.string(),
        /** The series or the lot. */
        recordId: Id,
        voltageV: z.number(),
        lab: Lab,
        /** From the law; null outside of its coupons. */
        deltaE: z.number().nullable(),
        sum: z.number(),
      }),
    ),
    limits: z.object({
      noise: z.number(),
      allowance: z.number(),
      decision: z.number(),
      mostOfOne: z.number(),
    }),
    expiredAt: Instant.nullable(),
  })
  .meta({ id: 'CalibrationDrift' });
export type CalibrationDrift = z.output<typeof CalibrationDrift>;

export const listCalibrations = defineQuery({
  name: 'listCalibrations',
  tags: ['colour'],
  path: '/calibrations',
  access: 'lab.read',
  summary: 'Calibrations of voltage and colour by code; approved ones and drafts unless asked otherwise',
  query: {
    ...listQuery,
    status: z.enum([...RevisionStatus.options, 'all']).optional(),
    baseMetal: BaseMetal.optional(),
  },
  reply: page(CalibrationItem),
});
export const getCalibration = defineQuery({
  name: 'getCalibration',
  tags: ['colour'],
  path: '/calibrations/:id',
  access: 'lab.read',
  summary: 'One revision of a calibration with its coupons and its law',
  params: { id: PathId },
  reply: Calibration,
});
export const getCalibrationDrift = defineQuery({
  name: 'getCalibrationDrift',
  tags: ['colour'],
  path: '/calibrations/:id/drift',
  access: 'lab.read',
  summary: 'What was measured since a calibration was approved, against its law, and whether it has expired',
  params: { id: PathId },
  reply: CalibrationDrift,
});
export const createCalibration = defineCommand({
  name: 'createCalibration',
  tags: ['colour'],
  path: '/calibrations',
  access: 'coupons.write',
  summary: 'Fit a law to the coupons of approved series, and keep it as a draft',
  body: NewCalibration,
  reply: Calibration,
  status: 201,
});
export const updateCalibration = defineCommand({
  name: 'updateCalibration',
  tags: ['colour'],
  method: 'PUT',
  path: '/calibrations/:id',
  access: 'coupons.write',
  summary: 'Write in a draft and fit it again; whoever writes in it cannot approve it',
  params: { id: PathId },
  body: NewCalibration,
  reply: Calibration,
  versioned: true,
});
export const reviseCalibration = defineCommand({
  name: 'reviseCalibration',
  tags: ['colour'],
  path: '/calibrations/:id/revisions',
  access: 'coupons.write',
  summary: 'Start the next revision as a copy of this one; a calibration has one draft at a time',
  params: { id: PathId },
  body: z.strictObject({ changeNote: Line(1000) }),
  reply: Calibration,
  status: 201,
});
export const discardCalibration = defineCommand({
  name: 'discardCalibration',
  tags: ['colour'],
  method: 'DELETE',
  path: '/calibrations/:id',
  access: 'coupons.write',
  summary: 'Discard a draft',
  params: { id: PathId },
  body: EmptyBody,
  reply: EmptyReply,
  versioned: true,
});
export const getCalibrationApproval = defineQuery({
  name: 'getCalibrationApproval',
  tags: ['colour'],
  path: '/calibrations/:id/approval',
  access: 'coupons.approve',
  summary: 'Whether I may approve a draft of a calibration, and as what',
  params: { id: PathId },
  reply: Approval,
});
export const approveCalibration = defineCommand({
  name: 'approveCalibration',
  tags: ['colour'],
  path: '/calibrations/:id/approve',
  access: 'coupons.approve',
  summary:
    'Approve a draft whose orders are decided and whose coupons agree; the revision approved before is superseded',
  params: { id: PathId },
  body: ApprovalBody,
  reply: Calibration,
  versioned: true,
  proof: 'signature',
});
export const retireCalibration = defineCommand({
  name: 'retireCalibration',
  tags: ['colour'],
  path: '/calibrations/:id/retire',
  access: 'coupons.approve',
  summary: 'Retire the approved revision: no voltage is proposed from it any more',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: Calibration,
  versioned: true,
});

/** A recipe whose voltage a law gives: limits from the window of the tolerance, and the coupons behind it cited. */
export const draftRecipeOfCalibration = defineCommand({
  name: 'draftRecipeOfCalibration',
  tags: ['colour'],
  path: '/calibrations/:id/recipes',
  access: 'recipes.write',
  summary:
    'Draft a recipe for a colour: voltage and limits by the law of an approved calibration, its coupon series cited',
  params: { id: PathId },
  body: z.strictObject({
    name: Line(120),
    colour: Text(120),
    target: z.strictObject(Lab.shape),
    toleranceDeltaE: z.number().min(0.1).max(50),
    /** One of the voltages that the law gives for the target; the nearest is taken. */
    voltageV: z.number().min(0).max(1000),
  }),
  reply: RecipeRevisionRef,
  status: 201,
});

/** What voltage does to the colour that a part asks for. */
export const VoltageReach = z
  .object({
    /** Null where the metal of the part does not colour by voltage, or no colour was agreed in figures. */
    nearest: z
      .object({
        voltageV: z.number(),
        deltaE: z.number(),
        toleranceDeltaE: z.number(),
        passes: z.boolean(),
        standard: z.string(),
        zone: z.string(),
        /** Within tolerance by the law; null where no voltage is. */
        window: z.object({ lowV: z.number(), highV: z.number() }).nullable(),
      })
      .array(),
    /** The law asked: an approved calibration of the part's own material, else the one out of the literature. */
    law: z.enum(['calibration', 'nominal']).nullable(),
    calibration: z.object({ id: Id, code: z.string(), revision: z.int() }).nullable(),
  })
  .meta({ id: 'VoltageReach' });
export type VoltageReach = z.output<typeof VoltageReach>;

export const getVoltageReach = defineQuery({
  name: 'getVoltageReach',
  tags: ['colour'],
  path: '/parts/:id/voltage-reach',
  access: 'parts.read',
  summary: 'Whether a voltage comes within tolerance of the colour that a part asks for, and the nearest one',
  params: { id: PathId },
  reply: VoltageReach,
});
