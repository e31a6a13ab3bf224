export { readRevision, readUsableRevisions } from './views.ts';
