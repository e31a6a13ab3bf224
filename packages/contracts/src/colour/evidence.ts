import { z } from 'zod';
import { BaseMetal } from '../catalog/base-metals.ts';
import { ColourGrade } from '../catalog/colour-grades.ts';
import { RevisionStatus } from '../core/approvals.ts';
import { StepQuantity } from '../catalog/steps.ts';
import { EmptyBody, EmptyReply, defineCommand, defineQuery } from '../kernel/http.ts';
import { Count, Day, Id, Instant, Lab, Line, PathId, Text } from '../kernel/scalars.ts';

import { ElsewhereProof } from './process-files.ts';
import { EvidenceException, EvidenceVerdict } from './evidence-gate.ts';

/**
 * What a recipe can be proved by: coupons, the first lot of a part that passed, or a lot made to try it. What was proved
 * elsewhere stands beside them and proves nothing here.
 */
export const EvidenceKind = z.enum(['coupons', 'first-article', 'trial-lot', 'elsewhere']);
export type EvidenceKind = z.output<typeof EvidenceKind>;
export const evidenceKindNames: Record<EvidenceKind, string> = {
  coupons: 'coupon series',
  'first-article': 'first article',
  'trial-lot': 'trial lot',
  elsewhere: 'proof of another shop',
};

const Alloy = z.object({ name: z.string(), condition: z.string(), baseMetal: BaseMetal });

/** One thing that a recipe revision rests on, for one alloy in one condition. */
export const CitedEvidence = z
  .object({
    id: Id,
    kind: EvidenceKind,
    grade: ColourGrade,
    /** As it was called when the coupons were approved or the lot was released. */
    alloy: Alloy,
    series: z
      .object({ id: Id, code: z.string(), revision: z.int(), name: z.string(), status: RevisionStatus })
      .nullable(),
    lot: z.object({ id: Id, number: z.string() }).nullable(),
    /** Coupons of the series, or accepted pieces of the lot. */
    pieces: Count,
    comparedBy: z.array(z.string()),
    instrument: z.string(),
    /** Its calibration was overdue when it measured. */
    instrumentOverdue: z.boolean(),
    lab: Lab.nullable(),
    note: z.string(),
    /** Of another shop; null for what is of this one. */
    elsewhere: ElsewhereProof.nullable(),
    expiresOn: Day.nullable(),
    citedBy: z.string(),
    citedAt: Instant,
    withdrawn: z.object({ by: z.string(), at: Instant, reason: z.string() }).nullable(),
    /** Why it proves nothing, as things stand; empty where it proves. */
    gaps: z.array(z.string()),
  })
  .meta({ id: 'CitedEvidence' });
export type CitedEvidence = z.output<typeof CitedEvidence>;

/** An alloy in a condition, and what proves the revision on it. */
export const ProvedAlloy = z.object({
  alloy: z.string(),
  condition: z.string(),
  coupons: Count,
  pieces: Count,
  grade: ColourGrade,
  /** What it was measured to be on this alloy; null where nothing was. */
  lab: Lab.nullable(),
  /** The day on which the last of it expires; null where some never does. */
  expiresOn: Day.nullable(),
});
/** A metal of the recipe, or an alloy that was ordered in it, that nothing proves it on. */
export const UnprovedAlloy = z.object({ alloy: z.string(), condition: z.string(), why: z.string() });

/** The range of a setting that the evidence supports, beside the limits of the step. */
export const ProposedLimit = z.object({
  position: z.int(),
  title: z.string(),
  quantity: StepQuantity,
  target: z.number(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  proposed: z.object({ low: z.number(), high: z.number() }),
  /** The limits of the step reach beyond what is proposed, or are open where something is. */
  isWider: z.boolean(),
});
export type ProposedLimit = z.output<typeof ProposedLimit>;

/** What stands behind one revision, what it is proved on and what not. */
export const RecipeEvidence = z
  .object({
    items: z.array(CitedEvidence),
    provedOn: z.array(ProvedAlloy),
    notProved: z.array(UnprovedAlloy),
    limits: z.array(ProposedLimit),
    /** How alike coupons must be to hold a limit, dE00. */
    toleranceDeltaE: z.number(),
    /** Why its approval takes a reason by name; empty where it needs none. */
    approvalNeeds: z.array(z.string()),
    exceptions: z.array(EvidenceException),
    /** The revision before, where it has evidence that this one does not cite. */
    before: z.object({ id: Id, revision: z.int(), count: Count }).nullable(),
  })
  .meta({ id: 'RecipeEvidence' });
export type RecipeEvidence = z.output<typeof RecipeEvidence>;

export const getRecipeEvidence = defineQuery({
  name: 'getRecipeEvidence',
  tags: ['colour'],
  path: '/recipe-revisions/:id/evidence',
  access: 'recipes.read',
  summary: 'What a recipe revision rests on, the alloys it is proved on and those it is not',
  params: { id: PathId },
  reply: RecipeEvidence,
});

/** How a colour is known that is handed in as evidence: what each grade takes. */
export const gradeFields = {
  grade: ColourGrade,
  /** Two people who compared it with a standard; empty for any other grade. */
  comparerIds: z.array(Id).max(2),
};
/** Refuses a comparison by fewer than two people, and people where nothing was compared. */
export function gradeFits(
  { grade, comparerIds }: { grade: ColourGrade; comparerIds: readonly number[] },
  context: z.RefinementCtx,
): void {
  const fault = (message: string) => context.addIssue({ code: 'custom', path: ['comparerIds'], message });
  if (grade !== 'compared' && comparerIds.length > 0) fault('are only for a colour that two people compared');
  if (grade === 'compared' && new Set(comparerIds).size !== 2)
    fault('must be two people: a comparison by one is a word');
}

export const citeCouponSeries = defineCommand({
  name: 'citeCouponSeries',
  tags: ['colour'],
  path: '/recipe-revisions/:id/evidence',
  access: 'coupons.write',
  summary:
    'Cite an approved coupon series behind a recipe revision; it proves its own alloy in its own condition',
  params: { id: PathId },
  body: z
    .strictObject({ seriesId: Id, ...gradeFields, expiresOn: Day.nullable(), note: Text(1000) })
    .superRefine(gradeFits),
  reply: RecipeEvidence,
  status: 201,
});
export const carryEvidence = defineCommand({
  name: 'carryEvidence',
  tags: ['colour'],
  path: '/recipe-revisions/:id/evidence/carry',
  access: 'coupons.write',
  summary:
    'Cite in a draft what the revision before rests on: its coupon series, and its lots where the colour steps are the same',
  params: { id: PathId },
  body: EmptyBody,
  reply: RecipeEvidence,
  status: 201,
});
export const removeEvidence = defineCommand({
  name: 'removeEvidence',
  tags: ['colour'],
  method: 'DELETE',
  path: '/recipe-evidence/:id',
  access: 'coupons.write',
  summary: 'Take evidence out of a draft',
  params: { id: PathId },
  body: EmptyBody,
  reply: EmptyReply,
});
export const withdrawEvidence = defineCommand({
  name: 'withdrawEvidence',
  tags: ['colour'],
  path: '/recipe-evidence/:id/withdraw',
  access: 'coupons.approve',
  summary: 'Withdraw evidence of an approved revision: it stays on record and proves nothing any more',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: RecipeEvidence,
});

/** Whether work on a part would be proved, before anything is quoted. */
export const getEvidenceVerdict = defineQuery({
  name: 'getEvidenceVerdict',
  tags: ['colour'],
  path: '/recipe-revisions/:id/evidence/materials/:materialId',
  access: 'recipes.read',
  summary: 'Whether a recipe revision is proved on a material, and the nearest evidence where it is not',
  params: { id: PathId, materialId: PathId },
  reply: EvidenceVerdict,
});
