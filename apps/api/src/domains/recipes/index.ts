export { type OrderedAlloy, readOrderedAlloys } from './alloy-queries.ts';
export { readRevision, readUsableRevisions } from './views.ts';
