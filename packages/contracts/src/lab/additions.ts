import { z } from 'zod';
import { AdditionRequest, ComputedAddition, PlannedStep } from './addition-plans.ts';
import { AdditionKind, AdditionState, AdditionSummary } from './addition-records.ts';
import { AnalysisResult } from './analysis-records.ts';
import { BathSetup } from './bath-setups.ts';
import { Bath, Waste } from './baths.ts';
import { BathHold } from './bath-holds.ts';
import { BathStatus } from './bath-status.ts';
import { ChemicalLot, Solute } from './chemicals.ts';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import { TemperatureC } from './lab-scalars.ts';
import {
  Csv,
  Day,
  Id,
  Instant,
  Line,
  listQuery,
  Money,
  page,
  PathId,
  Quantity,
  Text,
} from '../kernel/scalars.ts';

const DoneLine = z.object({
  action: z.enum(['decant', 'add-water', 'add-stock', 'filter', 'electrode']),
  chemicalLotId: Id.nullable(),
  kg: Quantity(1e6),
  volumeL: Quantity(1e6).nullable(),
  measured: z.enum(['weighed', 'metered', 'counted', 'by-level']),
  /** Where a decant went. */
  waste: Waste.nullable(),
});
export const AdditionLine = z
  .object({
    ...DoneLine.shape,
    id: Id,
    chemical: z
      .object({
        id: Id,
        code: z.string(),
        name: z.string(),
        solute: Solute.nullable(),
        supplierLot: z.string(),
        expiresOn: Day.nullable(),
        assayMassFraction: z.number(),
      })
      .nullable(),
    cost: Money.nullable(),
  })
  .meta({ id: 'AdditionLine' });
export type AdditionLine = z.output<typeof AdditionLine>;

export const Addition = z
  .object({
    id: Id,
    number: z.string(),
    bath: z.object({ id: Id, number: z.string(), tankId: Id, tankCode: z.string() }),
    kind: AdditionKind,
    state: AdditionState,
    fromAnalysis: z.object({ id: Id, number: z.string() }).nullable(),
    request: AdditionRequest.nullable(),
    computed: ComputedAddition.nullable(),
    /** As planned: the computed ones, or what the person made of them. */
    steps: z.array(PlannedStep),
    edited: z.boolean(),
    reason: z.string(),
    /** What was asked before it was planned; the reason answers it. */
    questions: z.array(z.string()),
    cautions: z.array(z.string()),
    /** Hot strong caustic: somebody else checks, and proves it with a PIN. */
    needsSecondPerson: z.boolean(),
    /** Something goes in that mixes: the bath is on hold from the start until it is released. */
    needsMixing: z.boolean(),
    hold: BathHold.nullable(),
    plannedBy: z.string(),
    plannedAt: Instant,
    /** The bath as it was planned for; anything since then asks for a new plan. */
    bathVersion: z.int(),
    done: z
      .object({
        by: z.string(),
        checkedBy: z.string().nullable(),
        startedAt: Instant,
        finishedAt: Instant,
        temperatureBeforeC: z.number().nullable(),
        temperatureAfterC: z.number().nullable(),
        volumeBeforeL: z.number().nullable(),
        volumeAfterL: z.number().nullable(),
        lines: z.array(AdditionLine),
        cost: Money.nullable(),
        reason: z.string(),
        /** What was asked before it was booked; the reason answers it. */
        questions: z.array(z.string()),
        notes: z.string(),
      })
      .nullable(),
    withdrawnBy: z.string().nullable(),
    withdrawReason: z.string().nullable(),
    corrects: z.object({ id: Id, number: z.string() }).nullable(),
    correctedBy: z.object({ id: Id, number: z.string() }).nullable(),
    /** The analysis that confirms it, once it is there. */
    confirmedBy: z.object({ id: Id, number: z.string() }).nullable(),
  })
  .meta({ id: 'Addition' });
export type Addition = z.output<typeof Addition>;

/** Everything the page that plans and does an addition needs. Also `current` of the refusal when it is outdated. */
export const AdditionSheet = z
  .object({
    bath: Bath,
    setup: BathSetup.nullable(),
    status: BathStatus,
    latest: z.array(AnalysisResult),
    /** The strength that was found last, as a mass fraction; null where nobody found it. */
    strength: z
      .object({
        massFraction: z.number(),
        standardUncertainty: z.number().nullable(),
        analysisId: Id,
        analysisNumber: z.string(),
        /** What stood in the tank at that sample, where somebody read it. */
        volumeL: z.number().nullable(),
        /** How many times as heavy as the solute's own solution that sample was; null where nobody can tell. */
        densityRatio: z.number().nullable(),
      })
      .nullable(),
    /** How the bath should stand by what was added since the strength was found; null where nothing was. */
    expected: z
      .object({
        massFraction: z.number(),
        volumeL: z.number(),
        /** What becomes of anything else that was dissolved: g/L now over g/L then. */
        dilution: z.number(),
        additions: z.array(z.string()),
      })
      .nullable(),
    /** What found the strength since something was last added, newest first: two that agree allow a large addition. */
    strengthAnalyses: z.array(
      z.object({
        number: z.string(),
        value: z.number(),
        standardUncertainty: z.number().nullable(),
        massFraction: z.number().nullable(),
      }),
    ),
    /** Temperatures that the tank is run between, and litres to its brim. */
    tankLimits: z.object({ minC: z.number().nullable(), maxC: z.number().nullable(), brimL: z.number() }),
    lots: z.array(ChemicalLot),
    /** The one that is planned and not done, if any: there is at most one. */
    planned: Addition.nullable(),
    recent: z.array(AdditionSummary),
    /** The usual cautions for this bath; the safety data sheet and local rules decide. */
    cautions: z.array(z.string()),
    needsSecondPerson: z.boolean(),
  })
  .meta({ id: 'AdditionSheet' });
export type AdditionSheet = z.output<typeof AdditionSheet>;
export const getAdditionSheet = defineQuery({
  name: 'getAdditionSheet',
  tags: ['lab'],
  path: '/baths/:id/addition-sheet',
  access: 'lab.read',
  summary: 'All that planning and doing an addition to a bath needs',
  params: { id: PathId },
  reply: AdditionSheet,
});

export const planBathAddition = defineCommand({
  name: 'planBathAddition',
  tags: ['lab'],
  path: '/baths/:id/additions',
  access: 'lab.write',
  summary:
    'Plan an addition to the bath as it stands; whatever was done to it meanwhile is shown and asks for a new plan',
  params: { id: PathId },
  body: z.strictObject({
    kind: AdditionKind,
    fromAnalysisId: Id.nullable(),
    request: AdditionRequest.nullable(),
    /** Null takes the computed steps. */
    steps: z.array(z.strictObject(PlannedStep.shape)).min(1).max(30).nullable(),
    /** Needed where no analysis led to it, or where the computed steps were changed. */
    reason: Text(500),
  }),
  reply: Addition,
  status: 201,
  versioned: true,
});
export const withdrawAddition = defineCommand({
  name: 'withdrawAddition',
  tags: ['lab'],
  path: '/additions/:id/withdraw',
  access: 'lab.write',
  summary: 'Withdraw a planned addition, with the reason',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: Addition,
});
const actuals = {
  startedAt: Instant,
  finishedAt: Instant,
  temperatureBeforeC: TemperatureC.nullable(),
  temperatureAfterC: TemperatureC.nullable(),
  volumeBeforeL: Quantity(1e6).nullable(),
  volumeAfterL: Quantity(1e6).nullable(),
  lines: z
    .array(z.strictObject({ ...DoneLine.shape, waste: z.strictObject(Waste.shape).nullable() }))
    .min(1)
    .max(30),
  /** Somebody else, with their PIN. */
  checker: z.strictObject({ personId: Id, pin: z.string().min(1).max(20) }).nullable(),
  /** Needed where amounts stray from the plan by more than a tenth, a lot has expired, or something speaks against what went in. */
  reason: Text(500),
  notes: Text(1000),
};
export const completeAddition = defineCommand({
  name: 'completeAddition',
  tags: ['lab'],
  path: '/additions/:id/complete',
  access: 'lab.write',
  summary:
    'Book what was really added; stock falls, a confirming analysis is asked for, and the bath is on hold while it mixes',
  params: { id: PathId },
  body: z.strictObject({
    ...actuals,
    /** Hold the bath also where nothing went in that has to mix. */
    hold: z.boolean().optional(),
  }),
  reply: Addition,
  status: 201,
  problems: ['version-conflict'],
});
export const correctAddition = defineCommand({
  name: 'correctAddition',
  tags: ['lab'],
  path: '/additions/:id/corrections',
  access: 'lab.write',
  summary: 'Book what was really added in place of what was booked, with the reason; stock follows',
  params: { id: PathId },
  body: z.strictObject({ ...actuals, reason: Line(500) }),
  reply: Addition,
  status: 201,
  problems: ['version-conflict'],
});
export const getAddition = defineQuery({
  name: 'getAddition',
  tags: ['lab'],
  path: '/additions/:id',
  access: 'lab.read',
  summary: 'One addition: plan and what was done',
  params: { id: PathId },
  reply: Addition,
});

const filters = {
  search: listQuery.search,
  bathId: PathId.optional(),
  tankId: PathId.optional(),
  chemicalId: PathId.optional(),
  kind: AdditionKind.optional(),
  state: AdditionState.optional(),
  from: Day.optional(),
  to: Day.optional(),
};
export const listAdditions = defineQuery({
  name: 'listAdditions',
  tags: ['lab'],
  path: '/additions',
  access: 'lab.read',
  summary: 'Additions, newest first',
  query: { after: listQuery.after, limit: listQuery.limit, ...filters },
  reply: page(AdditionSummary),
});
export const exportAdditions = defineQuery({
  name: 'exportAdditions',
  tags: ['lab'],
  path: '/additions.csv',
  access: 'lab.read',
  summary: 'Additions as CSV, one line for each thing added or taken',
  query: filters,
  reply: Csv,
});
