import { z } from 'zod';
import { ComponentUnit, Limits, ResultState } from './lab-scalars.ts';
import { Id, Instant } from '../kernel/scalars.ts';

/** Why a sample was taken. */
export const AnalysisReason = z.enum([
  'schedule',
  'shift-start',
  'after-addition',
  'make-up',
  'complaint',
  'look-back',
  'asked',
  'notebook',
]);
export type AnalysisReason = z.output<typeof AnalysisReason>;

/** One figure of an analysis, beside the limits that were in force. */
export const AnalysisResult = z
  .object({
    analysisId: Id,
    analysisNumber: z.string(),
    sampledAt: Instant,
    component: z.string(),
    name: z.string(),
    value: z.number(),
    standardUncertainty: z.number().nullable(),
    unit: ComponentUnit,
    /** Of g/L and mol/L. */
    referenceTemperatureC: z.number().nullable(),
    /** The same amount in the other ways of saying it, where there are any. */
    massFraction: z.number().nullable(),
    gramsPerLitre: z.number().nullable(),
    /** Range of the replicates over their mean (their difference for pH and the like); null for one reading. */
    spread: z.number().nullable(),
    limits: Limits,
    state: ResultState,
  })
  .meta({ id: 'AnalysisResult' });
export type AnalysisResult = z.output<typeof AnalysisResult>;

export const AnalysisSummary = z
  .object({
    id: Id,
    number: z.string(),
    bathId: Id,
    bathNumber: z.string(),
    tankCode: z.string(),
    sampledAt: Instant,
    why: AnalysisReason,
    method: z.string(),
    analyst: z.string(),
    results: z.array(AnalysisResult),
    /** A correction took its place. */
    superseded: z.boolean(),
    voided: z.boolean(),
    questions: z.int(),
  })
  .meta({ id: 'AnalysisSummary' });
export type AnalysisSummary = z.output<typeof AnalysisSummary>;
