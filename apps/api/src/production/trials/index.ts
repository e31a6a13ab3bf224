export { permitTrialRun } from './override.ts';
export { planTrialRun } from './plan.ts';
export { liftTrialStrip, noteTrialReading, takeTrialIn, takeTrialOut } from './floor.ts';
export { signTrial } from './sign.ts';
