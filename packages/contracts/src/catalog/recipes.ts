import { z } from 'zod';
import { Approval, ApprovalBody } from '../core/approvals.ts';
import { BaseMetal } from './base-metals.ts';
import { EmptyBody, EmptyReply, defineQuery, defineCommand } from '../kernel/http.ts';
import {
  Archived,
  Csv,
  Id,
  Instant,
  Lab,
  Line,
  PathId,
  Text,
  Version,
  listQuery,
  page,
} from '../kernel/scalars.ts';
import { NewStep } from './new-step.ts';
import { Family, familyNames, Step } from './steps.ts';

/** Draft -> approved, by a second person where there is one -> superseded by the next approved one, or withdrawn. */
export const RecipeStatus = z.enum(['draft', 'approved', 'superseded', 'withdrawn']);
export type RecipeStatus = z.output<typeof RecipeStatus>;

/** The metals each family of work is for. */
export const familyMetals = {
  'interference-colour': ['titanium', 'niobium', 'tantalum', 'zirconium'],
  'caustic-colour': ['steel', 'stainless-steel'],
  'dyed-anodize': ['aluminium'],
} as const satisfies Record<Family, readonly BaseMetal[]>;

const Signed = z.object({ id: Id, displayName: z.string() });

/** What stands at the head of a recipe, whatever the revision. */
export const recipeHeadFields = {
  name: Line(120),
  family: Family,
  /** The metals it is proved on. A bath that attacks one of them is refused. */
  baseMetals: z.array(BaseMetal).min(1, 'needs at least one metal').max(12),
  /** The colour in words: `deep blue, second order`. */
  colour: Text(120),
  notes: Text(4000),
};
function metalsFit(
  { family, baseMetals }: { family: Family; baseMetals: readonly BaseMetal[] },
  context: z.RefinementCtx,
): void {
  const allowed: readonly BaseMetal[] = familyMetals[family];
  baseMetals.forEach((metal, index) => {
    const message = allowed.includes(metal)
      ? baseMetals.indexOf(metal) === index
        ? null
        : 'is listed twice'
      : `${familyNames[family]} is for ${allowed.join(', ')}`;
    if (message !== null) context.addIssue({ code: 'custom', path: ['baseMetals', index], message });
  });
}
const Head = z.object({
  id: Id,
  number: z.string(),
  ...recipeHeadFields,
  name: z.string(),
  colour: z.string(),
  notes: z.string(),
  archivedAt: Instant.nullable(),
  createdAt: Instant,
  version: Version,
});

const RevisionItem = z.object({
  id: Id,
  revision: z.int().positive(),
  status: RecipeStatus,
  changeNote: z.string(),
  author: Signed,
  /** Everybody who wrote in it, the author first. None of them approves it where a second person may. */
  writers: z.array(Signed),
  createdAt: Instant,
  approvedBy: Signed.nullable(),
  approvedAt: Instant.nullable(),
  /** Approved by one of its writers, because nobody else may approve. */
  selfApproved: z.boolean(),
  supersededAt: Instant.nullable(),
  stepCount: z.int(),
  version: Version,
});
export type RevisionItem = z.output<typeof RevisionItem>;

/** A recipe with its revisions, newest first, without their steps. */
export const Recipe = Head.extend({
  revisions: z.array(RevisionItem),
  /** Whether family and metals may still change: they may until a revision is approved. */
  headOpen: z.boolean(),
}).meta({ id: 'Recipe' });
export type Recipe = z.output<typeof Recipe>;

/** One revision with its steps in order, and the head of its recipe: once approved, as it was then. */
export const RecipeRevision = RevisionItem.omit({ stepCount: true })
  .extend({ recipe: Head.omit({ version: true }), steps: z.array(Step) })
  .meta({ id: 'RecipeRevision' });
export type RecipeRevision = z.output<typeof RecipeRevision>;

/** How other records name a recipe in one revision. */
export const RecipeRevisionRef = z.object({
  id: Id,
  recipeId: Id,
  number: z.string(),
  name: z.string(),
  revision: z.int().positive(),
});
export type RecipeRevisionRef = z.output<typeof RecipeRevisionRef>;

export const RecipeItem = z.object({
  id: Id,
  number: z.string(),
  name: z.string(),
  family: Family,
  baseMetals: z.array(BaseMetal),
  colour: z.string(),
  /** What the evidence of the revision that may be used was measured to be; null where nothing was. */
  measured: z.object({ lab: Lab, alloy: z.string() }).nullable(),
  /** The revision that may be used. */
  approved: z.object({ id: Id, revision: z.int(), approvedAt: Instant }).nullable(),
  draft: z.object({ id: Id, revision: z.int(), author: z.string() }).nullable(),
  archived: z.boolean(),
});
export type RecipeItem = z.output<typeof RecipeItem>;

const filters = {
  search: listQuery.search,
  archived: Archived.optional(),
  family: Family.optional(),
  baseMetal: BaseMetal.optional(),
  /** Only recipes with an approved revision, or only those with a draft that waits. */
  has: z.enum(['approved', 'draft']).optional(),
  sort: z.enum(['number', '-number', 'name', '-name']).optional(),
};

const Steps = z.array(NewStep).max(60);
const changeNote = Text(1000);

export const listRecipes = defineQuery({
  name: 'listRecipes',
  tags: ['catalog'],
  path: '/recipes',
  access: 'recipes.read',
  summary: 'Recipes, searched by number, name or colour',
  query: { ...listQuery, ...filters },
  reply: page(RecipeItem),
});
export const exportRecipes = defineQuery({
  name: 'exportRecipes',
  tags: ['catalog'],
  path: '/recipes.csv',
  access: 'recipes.read',
  summary: 'The list of recipes as CSV',
  query: filters,
  reply: Csv,
});
export const getRecipe = defineQuery({
  name: 'getRecipe',
  tags: ['catalog'],
  path: '/recipes/:id',
  access: 'recipes.read',
  summary: 'One recipe with its revisions',
  params: { id: PathId },
  reply: Recipe,
});
export const createRecipe = defineCommand({
  name: 'createRecipe',
  tags: ['catalog'],
  path: '/recipes',
  access: 'recipes.write',
  summary: 'Start a recipe with a first draft',
  body: z.strictObject({ ...recipeHeadFields, changeNote, steps: Steps }).superRefine(metalsFit),
  reply: RecipeRevision,
  status: 201,
});
export const updateRecipe = defineCommand({
  name: 'updateRecipe',
  tags: ['catalog'],
  method: 'PUT',
  path: '/recipes/:id',
  access: 'recipes.write',
  summary: 'Change the head of a recipe; family and metals only until a revision is approved',
  params: { id: PathId },
  body: z.strictObject({ ...recipeHeadFields, archived: z.boolean() }).superRefine(metalsFit),
  reply: Recipe,
  versioned: true,
});

export const getRecipeRevision = defineQuery({
  name: 'getRecipeRevision',
  tags: ['catalog'],
  path: '/recipe-revisions/:id',
  access: 'recipes.read',
  summary: 'One revision of a recipe with its steps',
  params: { id: PathId },
  reply: RecipeRevision,
});
export const compareRecipeRevisions = defineQuery({
  name: 'compareRecipeRevisions',
  tags: ['catalog'],
  path: '/recipe-revisions/:id/compare/:withId',
  access: 'recipes.read',
  summary: 'Two revisions of one recipe, the older first',
  params: { id: PathId, withId: PathId },
  reply: z.object({ older: RecipeRevision, newer: RecipeRevision }),
});
export const saveDraft = defineCommand({
  name: 'saveDraft',
  tags: ['catalog'],
  method: 'PUT',
  path: '/recipe-revisions/:id',
  access: 'recipes.write',
  summary: 'Write the steps of a draft; whoever writes in it cannot approve it',
  params: { id: PathId },
  body: z.strictObject({ changeNote, steps: Steps }),
  reply: RecipeRevision,
  versioned: true,
});
export const startDraft = defineCommand({
  name: 'startDraft',
  tags: ['catalog'],
  path: '/recipe-revisions/:id/draft',
  access: 'recipes.write',
  summary: 'Start the next draft from any revision; a recipe has one draft at a time',
  params: { id: PathId },
  body: EmptyBody,
  reply: RecipeRevision,
  status: 201,
});
export const discardDraft = defineCommand({
  name: 'discardDraft',
  tags: ['catalog'],
  method: 'DELETE',
  path: '/recipe-revisions/:id',
  access: 'recipes.write',
  summary: 'Discard a draft',
  params: { id: PathId },
  body: EmptyBody,
  reply: EmptyReply,
  versioned: true,
});
export const getRecipeApproval = defineQuery({
  name: 'getRecipeApproval',
  tags: ['catalog'],
  path: '/recipe-revisions/:id/approval',
  access: 'recipes.approve',
  summary: 'Whether I may approve a draft of a recipe, and as what',
  params: { id: PathId },
  reply: Approval,
});
export const approveRevision = defineCommand({
  name: 'approveRevision',
  tags: ['catalog'],
  path: '/recipe-revisions/:id/approve',
  access: 'recipes.approve',
  summary:
    'Approve a draft that somebody else wrote, or as its author where nobody else may; the revision approved before is superseded. On no evidence, or with limits wider than it, only with a reason',
  params: { id: PathId },
  body: ApprovalBody.extend({
    /** Why it is approved although its evidence does not prove it; only where that is so. */
    unprovedReason: Line(500).optional(),
  }),
  reply: RecipeRevision,
  versioned: true,
  proof: 'signature',
});
export const withdrawRevision = defineCommand({
  name: 'withdrawRevision',
  tags: ['catalog'],
  path: '/recipe-revisions/:id/withdraw',
  access: 'recipes.approve',
  summary: 'Withdraw the approved revision: nothing new is quoted or released with it',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: RecipeRevision,
  versioned: true,
});

/** A record that names a revision of the recipe. */
export const RecipeUse = z.object({
  kind: z.enum(['quotation', 'order', 'lot']),
  id: Id,
  number: z.string(),
  revision: z.int(),
  status: z.string(),
  at: Instant,
});
export type RecipeUse = z.output<typeof RecipeUse>;
export const listRecipeUses = defineQuery({
  name: 'listRecipeUses',
  tags: ['catalog'],
  path: '/recipes/:id/uses',
  access: 'recipes.read',
  summary: 'Where a recipe is used, newest first, of the records the asker may read',
  params: { id: PathId },
  query: { after: listQuery.after, limit: listQuery.limit },
  reply: page(RecipeUse),
});
