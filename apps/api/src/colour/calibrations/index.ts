export { approveCalibration } from './approval.ts';
export { startCalibration } from './drafts.ts';
export { readExpired } from './expired.ts';
