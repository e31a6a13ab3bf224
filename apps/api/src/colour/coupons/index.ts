export { approveSeries } from './approval.ts';
export { settingOf } from './colour-now.ts';
export { readToday, readTrials } from './queries.ts';
export { reviseSeries, startSeries, writeSeries } from './drafts.ts';
export { toStrengthTrial } from './strength-trials.ts';
