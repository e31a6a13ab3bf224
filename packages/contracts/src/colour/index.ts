export * from './bath-colour.ts';
export * from './coupons.ts';
export * from './evidence.ts';
export * from './process-files.ts';
export * from './process-maps.ts';
export * from './evidence-gate.ts';
export * from './trial-factors.ts';
export * from './trial-outcomes.ts';
