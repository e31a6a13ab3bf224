import { z } from 'zod';
import { defineQuery } from '../kernel/http.ts';
import { Count, Id, PathId } from '../kernel/scalars.ts';

const LotRef = z.object({ id: Id, number: z.string() });

/** One thing that differs between lots of a recipe: a figure, or a name such as that of the rack. */
export const UnusualFactor = z
  .object({
    name: z.string(),
    /** The quantity of a reading, the unit of a result of a bath, or s; empty of a name. */
    unit: z.string(),
    /**
     * Standard deviations that the bad lots lie from the good ones; of names, how far a normal value as rare as their tail lies. Null where
     * the good lots never differed and the bad ones do.
     */
    score: z.number().nullable(),
    /** Of a figure: of each lot, and the middle and spread of the good ones. */
    figures: z
      .object({
        bad: z.array(z.number()),
        good: z.array(z.number()),
        median: z.number(),
        spread: z.number(),
      })
      .nullable(),
    /** Of a name: the one of the bad lots that is rarest among all, and how often chance would give it as often. */
    named: z
      .object({
        value: z.string(),
        bad: Count,
        badOf: Count,
        good: Count,
        goodOf: Count,
        probability: z.number(),
      })
      .nullable(),
  })
  .meta({ id: 'UnusualFactor' });
export type UnusualFactor = z.output<typeof UnusualFactor>;

export const UnusualFactors = z
  .object({
    recipe: z.object({ id: Id, label: z.string() }),
    /** The lot itself, and lots of the recipe with the same fault. */
    bad: z.array(LotRef),
    /** Lots of the recipe that were checked and have no nonconformance. */
    good: Count,
    factors: z.array(UnusualFactor),
    /** Factors that could be compared: with so many some look unusual by chance. */
    compared: Count,
    /** So many of them would be expected beyond two standard deviations by chance alone. */
    expectedByChance: z.number(),
  })
  .meta({ id: 'UnusualFactors' });
export type UnusualFactors = z.output<typeof UnusualFactors>;

export const getUnusualFactors = defineQuery({
  name: 'getUnusualFactors',
  tags: ['quality'],
  path: '/nonconformances/:id/unusual-factors',
  access: 'trace.read',
  summary: 'How the bad lots of a nonconformance differ from good lots of the recipe, the most unusual first',
  searches: true,
  params: { id: PathId },
  reply: UnusualFactors,
});
