export * from './bath-colour.ts';
export * from './coupons.ts';
export * from './evidence.ts';
export * from './evidence-gate.ts';
