export { type OrderedAlloy, readOrderedAlloys } from './alloy-queries.ts';
export { addRecipe } from './recipes.ts';
export { readRevision, readUsableRevisions } from './views.ts';
export { approveRecipe } from './approval.ts';
export { startDraft, writeDraft } from './drafts.ts';
