export { lifeFor, summaryFor } from './costs.ts';
export { readAdditions } from './queries.ts';
export { toSummary } from './view.ts';
