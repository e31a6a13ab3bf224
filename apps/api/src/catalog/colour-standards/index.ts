export { approveStandard } from './approval.ts';
export { startStandard } from './drafts.ts';
export { standardOfSample } from './sample-standard.ts';
export { readColourStandard } from './views.ts';
export { readInForce, readToday, readUnconfirmed } from './queries.ts';
