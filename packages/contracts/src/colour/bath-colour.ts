import { z } from 'zod';
import { BaseMetal } from '../catalog/base-metals.ts';
import { CouponTrial, StrengthUnit, TankSetting } from './coupons.ts';
import { defineQuery } from '../kernel/http.ts';
import { Id, Instant, Lab, PathId } from '../kernel/scalars.ts';
import { CouponOutcome } from './trial-outcomes.ts';

/** Why no colour is shown: what the record lacks, or where the coupons say nothing. */
export const ColourGap = z.enum([
  'no-series',
  'no-setting',
  'strength-not-watched',
  'no-target',
  'not-analysed',
  'changed-since',
  'no-trial-near',
  'trials-disagree',
  'one-strength',
  'outside-tried',
  'few-trials',
  'not-separable',
]);
export type ColourGap = z.output<typeof ColourGap>;

const Outcome = z.enum([...CouponOutcome.options, 'untested']);

/** What the bath does now to the colour of one recipe, or of a coupon series that no recipe uses yet. */
export const ColourNow = z.object({
  recipe: z
    .object({ id: Id, number: z.string(), name: z.string(), revision: z.int(), step: z.string() })
    .nullable(),
  /** The metals that are coloured. */
  baseMetals: z.array(BaseMetal),
  /** What of them was ordered in this recipe; null where nothing was, and then coupons speak for their own alloy alone. */
  alloy: z.string().nullable(),
  series: z
    .object({
      id: Id,
      code: z.string(),
      revision: z.int(),
      name: z.string(),
      material: z.string(),
      preparation: z.string(),
      component: z.string(),
      unit: StrengthUnit,
    })
    .nullable(),
  /** Of the recipe, or where the series was tried most. */
  setting: TankSetting.nullable(),
  strength: z
    .object({
      name: z.string(),
      target: z.number(),
      present: z.number(),
      standardUncertainty: z.number().nullable(),
      sampledAt: Instant,
      analysisId: Id,
      analysisNumber: z.string(),
    })
    .nullable(),
  outcome: z.object({ target: Outcome, present: Outcome }).nullable(),
  /** Null where trials do not support one. */
  colour: z
    .object({
      target: Lab,
      present: Lab,
      deltaE: z.number(),
      spreadDeltaE: z.number().nullable(),
      isTold: z.boolean().nullable(),
      scatterDeltaE: z.number(),
    })
    .nullable(),
  gap: ColourGap.nullable(),
  support: z
    .object({
      near: z.int(),
      coloured: z.int(),
      strengths: z.object({ low: z.number(), high: z.number() }).nullable(),
      nearest: CouponTrial.nullable(),
    })
    .nullable(),
});
export type ColourNow = z.output<typeof ColourNow>;

export const BathColour = z
  .object({
    /** Whether work is coloured in this tank by current. */
    colours: z.boolean(),
    items: z.array(ColourNow),
  })
  .meta({ id: 'BathColour' });
export type BathColour = z.output<typeof BathColour>;

export const getBathColour = defineQuery({
  name: 'getBathColour',
  tags: ['colour'],
  path: '/baths/:id/colour',
  access: 'lab.read',
  summary:
    'What the present strength of a bath does to colour, for each alloy of each approved recipe that colours in it and each approved coupon series; untested where coupons of that alloy do not support it',
  params: { id: PathId },
  reply: BathColour,
});
