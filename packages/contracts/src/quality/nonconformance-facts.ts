import { z } from 'zod';
import { StepKind, StepQuantity } from '../catalog/steps.ts';
import { StoredFile } from '../core/files.ts';
import { Count, Day, Id, Instant } from '../kernel/scalars.ts';
import { AnalysisSummary } from '../lab/analysis-records.ts';
import { BathState } from '../lab/bath-status.ts';
import {
  Correctable,
  CostKind,
  Disposition,
  Fault,
  FoundAt,
  NonconformanceState,
  TakenFrom,
} from './nonconformance-words.ts';

const Ref = z.object({ id: Id, number: z.string() });

/** What the record says of the lot, pulled and never typed: frozen with the nonconformance. */
export const LotFacts = z
  .object({
    lot: Ref.extend({ quantity: Count }),
    customer: z.object({ number: z.string(), name: z.string() }),
    part: z.string(),
    material: z.string(),
    recipe: z.string(),
    traveler: z.string(),
    rack: z.string(),
    supply: z.string(),
    steps: z.array(
      z.object({
        position: z.int(),
        kind: StepKind,
        title: z.string(),
        doneAt: Instant,
        person: z.string(),
        tank: z.string(),
        bath: Ref.nullable(),
        bathState: BathState.nullable(),
        outside: z.boolean(),
        reason: z.string(),
        readings: z.array(
          z.object({
            quantity: StepQuantity,
            value: z.number(),
            low: z.number().nullable(),
            high: z.number().nullable(),
            outside: z.boolean(),
            instrument: z.string(),
          }),
        ),
        /** The last analysis of the bath before the step. */
        analysis: AnalysisSummary.nullable(),
      }),
    ),
  })
  .meta({ id: 'NonconformanceLotFacts' });
export type LotFacts = z.output<typeof LotFacts>;

/** As it was found; `corrected` names what a correction put right since, and the figures here are those that stand. */
const Found = {
  foundOn: Day,
  foundAt: FoundAt,
  foundBy: z.string(),
  customerReference: z.string(),
  piecesAffected: Count,
  piecesInspected: Count,
  fault: Fault,
  place: z.string(),
  description: z.string(),
  requirement: z.string(),
  measuredValue: z.number().nullable(),
  measuredUnit: z.string(),
};

export const NonconformanceItem = z
  .object({
    id: Id,
    number: z.string(),
    state: NonconformanceState,
    fault: Fault,
    foundOn: Day,
    foundAt: FoundAt,
    piecesAffected: Count,
    /** Pieces that nobody decided about yet. */
    undecided: Count,
    lot: Ref,
    customer: z.string(),
    part: z.string(),
    /** Days its oldest action is overdue; 0 where none is. */
    overdueDays: Count,
    openedBy: z.string(),
    openedAt: Instant,
  })
  .meta({ id: 'NonconformanceItem' });
export type NonconformanceItem = z.output<typeof NonconformanceItem>;

export const DispositionRow = z.object({
  id: Id,
  disposition: Disposition,
  pieces: Count,
  takenFrom: TakenFrom,
  authority: z.string(),
  concessionNumber: z.string(),
  concessionBy: z.string(),
  reason: z.string(),
  traveler: Ref.nullable(),
  by: z.string(),
  at: Instant,
});
export const NonconformanceEntry = z
  .object({
    id: Id,
    kind: z.enum([
      ...['containment', 'photo', 'correction', 'cause', 'action'],
      ...['action-done', 'effect', 'cost', 'closed', 'reopened'],
    ] as const),
    text: z.string(),
    actionId: Id.nullable(),
    owner: z.object({ id: Id, name: z.string() }).nullable(),
    dueOn: Day.nullable(),
    effective: z.boolean().nullable(),
    file: StoredFile.nullable(),
    costKind: CostKind.nullable(),
    amount: z.string().nullable(),
    field: Correctable.nullable(),
    newValue: z.string().nullable(),
    byId: Id,
    by: z.string(),
    at: Instant,
  })
  .meta({ id: 'NonconformanceEntry' });
export type NonconformanceEntry = z.output<typeof NonconformanceEntry>;

export const Nonconformance = z
  .object({
    id: Id,
    number: z.string(),
    state: NonconformanceState,
    ...Found,
    corrected: z.array(Correctable),
    containment: z.string(),
    record: LotFacts,
    openedBy: z.string(),
    openedAt: Instant,
    undecided: Count,
    dispositions: z.array(DispositionRow),
    entries: z.array(NonconformanceEntry),
    /** What it takes before it can be closed; empty where nothing is missing. */
    missing: z.array(z.string()),
    /** Of its costs, in the shop’s currency; null for those who do not see them. */
    cost: z.object({ currency: z.string(), total: z.string() }).nullable(),
  })
  .meta({ id: 'Nonconformance' });
export type Nonconformance = z.output<typeof Nonconformance>;
