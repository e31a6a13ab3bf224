import { z } from 'zod';
import { Approval, ApprovalBody, RevisionStatus } from '../core/approvals.ts';
import { BaseMetal } from '../catalog/base-metals.ts';
import { EmptyBody, EmptyReply, defineQuery, defineCommand } from '../kernel/http.ts';
import { ComponentKey, TemperatureC } from '../lab/lab-scalars.ts';
import {
  Csv,
  Day,
  Id,
  Instant,
  Lab,
  Line,
  listQuery,
  page,
  PathId,
  Positive,
  Text,
  Version,
} from '../kernel/scalars.ts';
import { TankContents } from '../catalog/steps.ts';

/** What a coupon showed: no film worth having, interference colours, or a dark film (black, brown, grey). */
export const CouponOutcome = z.enum(['none', 'interference', 'dark']);
export type CouponOutcome = z.output<typeof CouponOutcome>;

/** How the strength of a bath is stated at a trial. Amounts in a litre are those at a stated temperature. */
export const StrengthUnit = z.enum(['massFraction', 'gramsPerLitre', 'molPerLitre']);
export type StrengthUnit = z.output<typeof StrengthUnit>;

/** What was set at the tank. */
export const TankSetting = z.object({
  temperatureC: z.number().min(-20).max(300),
  /** Across the cell, at its end. */
  voltageV: z.number().min(0).max(1000),
  /** Under voltage. */
  timeS: Positive(1_000_000),
});
export type TankSetting = z.output<typeof TankSetting>;

/** One coupon. */
export const CouponTrial = z.object({
  /** What is scratched or written on the coupon; empty where nothing is. */
  mark: Text(40),
  ...TankSetting.shape,
  /** Of the component and in the unit of its series. */
  strength: Positive(1_000_000),
  outcome: CouponOutcome,
  /** D65, 2 degree, specular included; null where it was not measured. */
  lab: Lab.nullable(),
  madeOn: Day,
  madeBy: Line(100),
});
export type CouponTrial = z.output<typeof CouponTrial>;

/** The columns that trials are pasted from and exported to, in their order. */
export const couponColumns = [
  ...['mark', 'temperatureC', 'voltageV', 'timeS', 'strength', 'outcome'],
  ...['L', 'a', 'b', 'madeOn', 'madeBy'],
] as const;

const seriesFields = {
  name: Line(100),
  /** The kind of bath, as tanks name what they hold. */
  contents: TankContents,
  /** What gives the bath its strength: a component that such baths are watched for. */
  component: ComponentKey,
  unit: StrengthUnit,
  referenceTemperatureC: TemperatureC.nullable(),
  /** How every coupon was prepared: grinding, cleaning, heat treatment. */
  preparation: Text(2000),
  notes: Text(4000),
  changeNote: Text(1000),
};
const code = z
  .string()
  .trim()
  .regex(/^[\p{L}\p{N}][\p{L}\p{N}._-]{0,19}$/u, 'must be 1 to 20 letters, digits, dots or dashes');

export const NewCouponSeries = z
  .strictObject({
    code,
    materialId: Id,
    ...seriesFields,
    trials: z.array(z.strictObject(CouponTrial.shape)).max(500),
  })
  .superRefine(({ contents, unit, referenceTemperatureC, trials }, context) => {
    const fault = (path: (string | number)[], message: string) =>
      context.addIssue({ code: 'custom', path, message });
    if (contents === 'air') fault(['contents'], 'must be a bath: coupons are coloured in it');
    if (unit === 'massFraction' && referenceTemperatureC !== null)
      fault(['referenceTemperatureC'], 'must be empty for a mass fraction');
    if (unit !== 'massFraction' && referenceTemperatureC === null)
      fault(['referenceTemperatureC'], 'must be given for an amount in a litre');
    trials.forEach(({ strength }, index) => {
      if (unit === 'massFraction' && strength > 1)
        fault(['trials', index, 'strength'], 'must be at most 1, all of the mass');
    });
  });
export type NewCouponSeries = z.output<typeof NewCouponSeries>;

const Signed = z.object({ id: Id, displayName: z.string() });
const CouponMaterial = z.object({
  id: Id,
  name: z.string(),
  condition: z.string(),
  baseMetal: BaseMetal,
});

const Head = z.object({
  id: Id,
  code: z.string(),
  revision: z.int().positive(),
  status: RevisionStatus,
  ...seriesFields,
  name: z.string(),
  component: z.string(),
  material: CouponMaterial,
  trialCount: z.int(),
  author: z.string(),
  createdAt: Instant,
  approvedBy: z.string().nullable(),
  approvedAt: Instant.nullable(),
  /** Approved by one of its writers, because nobody else may approve. */
  selfApproved: z.boolean(),
  version: Version,
});

/** A series of coupons on a list, without its trials. */
export const CouponSeriesItem = Head.meta({ id: 'CouponSeriesItem' });
export type CouponSeriesItem = z.output<typeof CouponSeriesItem>;

/** One revision of a series with its trials, and the revisions beside it. */
export const CouponSeries = Head.extend({
  /** Everybody who wrote in it, the author first. None of them approves it where a second person may. */
  writers: z.array(Signed),
  endedAt: Instant.nullable(),
  /** Why it was retired. */
  endReason: z.string(),
  trials: z.array(CouponTrial),
  revisions: z.array(z.object({ id: Id, revision: z.int(), status: RevisionStatus, changeNote: z.string() })),
}).meta({ id: 'CouponSeries' });
export type CouponSeries = z.output<typeof CouponSeries>;

const filters = {
  search: listQuery.search,
  /** Approved ones and drafts when not said. */
  status: z.enum([...RevisionStatus.options, 'all']).optional(),
  contents: TankContents.optional(),
};

export const listCouponSeries = defineQuery({
  name: 'listCouponSeries',
  tags: ['colour'],
  path: '/coupon-series',
  access: 'lab.read',
  summary: 'Series of coupon trials by code; approved ones and drafts unless asked otherwise',
  query: { ...listQuery, ...filters },
  reply: page(CouponSeriesItem),
});
export const exportCouponSeries = defineQuery({
  name: 'exportCouponSeries',
  tags: ['colour'],
  path: '/coupon-series.csv',
  access: 'lab.read',
  summary: 'The list of coupon series as CSV',
  query: filters,
  reply: Csv,
});
export const getCouponSeries = defineQuery({
  name: 'getCouponSeries',
  tags: ['colour'],
  path: '/coupon-series/:id',
  access: 'lab.read',
  summary: 'One revision of a coupon series with its trials',
  params: { id: PathId },
  reply: CouponSeries,
});
export const exportCouponTrials = defineQuery({
  name: 'exportCouponTrials',
  tags: ['colour'],
  path: '/coupon-series/:id/trials.csv',
  access: 'lab.read',
  summary: 'The trials of a coupon series as CSV, in the columns that trials are pasted in',
  params: { id: PathId },
  reply: Csv,
});
export const createCouponSeries = defineCommand({
  name: 'createCouponSeries',
  tags: ['colour'],
  path: '/coupon-series',
  access: 'coupons.write',
  summary: 'Start a coupon series as a draft; a metal that the bath attacks is refused',
  body: NewCouponSeries,
  reply: CouponSeries,
  status: 201,
});
export const updateCouponSeries = defineCommand({
  name: 'updateCouponSeries',
  tags: ['colour'],
  method: 'PUT',
  path: '/coupon-series/:id',
  access: 'coupons.write',
  summary: 'Write in a draft; whoever writes in it cannot approve it',
  params: { id: PathId },
  body: NewCouponSeries,
  reply: CouponSeries,
  versioned: true,
});
export const reviseCouponSeries = defineCommand({
  name: 'reviseCouponSeries',
  tags: ['colour'],
  path: '/coupon-series/:id/revisions',
  access: 'coupons.write',
  summary: 'Start the next revision as a copy of this one; a series has one draft at a time',
  params: { id: PathId },
  body: z.strictObject({ changeNote: Line(1000) }),
  reply: CouponSeries,
  status: 201,
});
export const discardCouponSeries = defineCommand({
  name: 'discardCouponSeries',
  tags: ['colour'],
  method: 'DELETE',
  path: '/coupon-series/:id',
  access: 'coupons.write',
  summary: 'Discard a draft',
  params: { id: PathId },
  body: EmptyBody,
  reply: EmptyReply,
  versioned: true,
});
export const getCouponApproval = defineQuery({
  name: 'getCouponApproval',
  tags: ['colour'],
  path: '/coupon-series/:id/approval',
  access: 'coupons.approve',
  summary: 'Whether I may approve a draft of a coupon series, and as what',
  params: { id: PathId },
  reply: Approval,
});

export const approveCouponSeries = defineCommand({
  name: 'approveCouponSeries',
  tags: ['colour'],
  path: '/coupon-series/:id/approve',
  access: 'coupons.approve',
  summary:
    'Approve a draft that others wrote, or as its author where nobody else may; the revision approved before is superseded',
  params: { id: PathId },
  body: ApprovalBody,
  reply: CouponSeries,
  versioned: true,
  proof: 'signature',
});
export const retireCouponSeries = defineCommand({
  name: 'retireCouponSeries',
  tags: ['colour'],
  path: '/coupon-series/:id/retire',
  access: 'coupons.approve',
  summary: 'Retire the approved revision: nothing is predicted from it any more',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: CouponSeries,
  versioned: true,
});
