export * from './bath-colour.ts';
export * from './coupons.ts';
