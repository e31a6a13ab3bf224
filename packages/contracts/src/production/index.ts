export * from './coupon-uses.ts';
export * from './done-correction.ts';
export * from './lots.ts';
export * from './step-floor.ts';
export * from './tank-floor.ts';
export * from './travelers.ts';
export * from './trial-runs.ts';
