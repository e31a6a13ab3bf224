import { z } from 'zod';
import { StoredFile } from '../core/files.ts';
import { Approval, ApprovalBody, RevisionStatus } from '../core/approvals.ts';
import { BaseMetal } from '../catalog/base-metals.ts';
import { ColourGrade, colourGradeNames, gradeDecides } from '../catalog/colour-grades.ts';
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
  Text,
  Version,
} from '../kernel/scalars.ts';
import { TankContents } from '../catalog/steps.ts';
import {
  factorFaults,
  FactorFigure,
  type TrialFactor,
  trialFactorsOf,
  trialOutcomesOf,
} from './trial-factors.ts';
import { CouponOutcome } from './trial-outcomes.ts';

/** How the strength of a bath is stated at a trial. Amounts in a litre are those at a stated temperature. */
export const StrengthUnit = z.enum(['massFraction', 'gramsPerLitre', 'molPerLitre']);
export type StrengthUnit = z.output<typeof StrengthUnit>;

/** What was set at a tank that colours by current. */
export const TankSetting = z.object({
  temperatureC: FactorFigure('temperatureC'),
  /** Across the cell, at its end. */
  voltageV: FactorFigure('voltageV'),
  /** Under voltage. */
  timeS: FactorFigure('timeS'),
});
export type TankSetting = z.output<typeof TankSetting>;

/** One coupon. What its kind of trial does not have is null. */
export const CouponTrial = z.object({
  /** What is scratched or written on the coupon; empty where nothing is. */
  mark: Text(40),
  coatingThicknessUm: FactorFigure('coatingThicknessUm').nullable(),
  temperatureC: FactorFigure('temperatureC'),
  /** Across the cell, at its end. */
  voltageV: FactorFigure('voltageV').nullable(),
  /** Under voltage, or in the dye. */
  timeS: FactorFigure('timeS'),
  /** Of the component and in the unit of its series. */
  strength: FactorFigure('strength'),
  pH: FactorFigure('pH').nullable(),
  /** At its end, where it was read. */
  currentDensityAPerM2: FactorFigure('currentDensityAPerM2').nullable(),
  /** Null until somebody has looked at a coupon that was run at a tank; a series is not approved before. */
  outcome: CouponOutcome.nullable(),
  /** Whether the film protects; null where nobody tried. */
  protects: z.boolean().nullable(),
  /** How its colour is known; null of coupons that were entered before this was asked. */
  grade: ColourGrade.nullable(),
  /** D65, 2 degree, specular included; null where there is no figure of it. */
  lab: Lab.nullable(),
  madeOn: Day,
  madeBy: Line(100),
  /** The run at a tank that it comes from: what it was made under was signed there. */
  run: z
    .object({
      id: Id,
      number: z.string(),
      /** Which coupon or band of it. */
      piece: z.int().positive(),
      tank: z.string(),
      bath: z.string(),
      supply: z.string().nullable(),
    })
    .nullable(),
});
export type CouponTrial = z.output<typeof CouponTrial>;

const colourWith = { measured: true, photo: true, word: false, compared: null } as const;

/** As a coupon is entered: what is left out was not set, read or tried. */
export const NewCouponTrial = z
  .strictObject({
    ...CouponTrial.shape,
    coatingThicknessUm: CouponTrial.shape.coatingThicknessUm.default(null),
    voltageV: CouponTrial.shape.voltageV.default(null),
    pH: CouponTrial.shape.pH.default(null),
    currentDensityAPerM2: CouponTrial.shape.currentDensityAPerM2.default(null),
    protects: CouponTrial.shape.protects.default(null),
    /** Null is measured where there is a colour, and words where there is none. */
    grade: CouponTrial.shape.grade.default(null),
    run: z.strictObject({ id: Id, piece: z.int().positive() }).nullable().default(null),
  })
  .superRefine((trial, context) => {
    const grade = gradeAsEntered(trial);
    const fault = (path: string, message: string) =>
      context.addIssue({ code: 'custom', path: [path], message });
    if (trial.outcome === null && trial.run === null) fault('outcome', 'must be filled in');
    if (colourWith[grade] === true && trial.lab === null)
      fault('lab', `must be filled in: it is ${colourGradeNames[grade]}`);
    if (colourWith[grade] === false && trial.lab !== null)
      fault('grade', 'must be another: words are no figures');
  });
export type NewCouponTrial = z.output<typeof NewCouponTrial>;

/** How the colour of a coupon is known that is entered now. */
export const gradeAsEntered = ({ grade, lab }: Pick<CouponTrial, 'grade' | 'lab'>): ColourGrade =>
  grade ?? (lab === null ? 'word' : 'measured');

/**
 * Whether a coupon may feed a fit or stand behind an approval. Of one that was entered before grades were asked, only a
 * colour in figures does.
 *
 * @example
 * trialDecides({ grade: 'photo', lab: { L: 40, a: 5, b: -30 } }) // false
 */
export const trialDecides = ({ grade, lab }: Pick<CouponTrial, 'grade' | 'lab'>): boolean =>
  grade === null ? lab !== null : gradeDecides(grade);

/**
 * The columns that trials in such a bath are pasted from and exported to, in their order: what every row needs, then what may
 * be left out.
 */
export function couponColumnsOf(contents: TankContents) {
  const factors = trialFactorsOf(contents);
  const keys = (isRequired: boolean) =>
    factors.filter((one) => one.isRequired === isRequired).map(({ factor }) => factor);
  return {
    required: [
      ...(['mark', ...keys(true), 'outcome', 'L', 'a', 'b', 'madeOn', 'madeBy'] as const),
    ] as CouponColumn[],
    optional: [...keys(false), 'protects', 'grade'] as CouponColumn[],
  };
}
export type CouponColumn =
  TrialFactor | 'mark' | 'outcome' | 'L' | 'a' | 'b' | 'madeOn' | 'madeBy' | 'protects' | 'grade';

/** A place on a photo, as shares of its width and height from the upper left: the reference, or a band by its number. */
export const PhotoMark = z.strictObject({
  x: z.number().min(0).max(1),
  y: z.number().min(0).max(1),
  label: Line(20),
});
export type PhotoMark = z.output<typeof PhotoMark>;
const CouponPhoto = z.object({ file: StoredFile, marks: z.array(PhotoMark) });

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
    trials: z.array(NewCouponTrial).max(500),
    /** Photos of strips, with what was pointed at on them. */
    photos: z
      .array(z.strictObject({ fileId: Id, marks: z.array(PhotoMark).max(120) }))
      .max(20)
      .default([]),
  })
  .superRefine(({ contents, unit, referenceTemperatureC, trials }, context) => {
    const fault = (path: (string | number)[], message: string) =>
      context.addIssue({ code: 'custom', path, message });
    if (contents === 'air') fault(['contents'], 'must be a bath: coupons are coloured in it');
    if (unit === 'massFraction' && referenceTemperatureC !== null)
      fault(['referenceTemperatureC'], 'must be empty for a mass fraction');
    if (unit !== 'massFraction' && referenceTemperatureC === null)
      fault(['referenceTemperatureC'], 'must be given for an amount in a litre');
    trials.forEach((trial, index) => {
      if (unit === 'massFraction' && trial.strength > 1)
        fault(['trials', index, 'strength'], 'must be at most 1, all of the mass');
      for (const { factor, message } of factorFaults(contents, trial))
        fault(['trials', index, factor], message);
      if (trial.outcome !== null && !trialOutcomesOf(contents).includes(trial.outcome))
        fault(['trials', index, 'outcome'], `must be one of ${trialOutcomesOf(contents).join(', ')}`);
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
  photos: z.array(CouponPhoto),
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
