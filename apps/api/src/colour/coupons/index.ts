export { approveSeries } from './approval.ts';
export { settingOf } from './colour-now.ts';
export { type BathStrength, readBathStrength } from './bath-strength.ts';
export { addTrials } from './from-runs.ts';
export { readToday, readTrials } from './queries.ts';
export { readCouponSeries } from './views.ts';
export { reviseSeries, startSeries, writeSeries } from './drafts.ts';
export { isLookedAt, toStrengthTrial } from './strength-trials.ts';
