export { readAdditions } from './queries.ts';
export { toSummary } from './view.ts';
