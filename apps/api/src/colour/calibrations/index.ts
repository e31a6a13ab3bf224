export { approveCalibration } from './approval.ts';
export { startCalibration } from './drafts.ts';
export { readExpired } from './expired.ts';
export { readOpticalThickness } from './thickness-at.ts';
