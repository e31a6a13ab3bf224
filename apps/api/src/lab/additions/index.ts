export { bathUsageCosts, summaryFor } from './costs.ts';
export { readAdditions } from './queries.ts';
export { toSummary } from './view.ts';
export { completeAddition } from './done.ts';
export { planAddition } from './plan.ts';
