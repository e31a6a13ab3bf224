export { approveSeries } from './approval.ts';
export { reviseSeries, startSeries, writeSeries } from './drafts.ts';
