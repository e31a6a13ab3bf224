/** Texts and the rules that choose them, not schemas: what is warned of at a bath, and what speaks against an addition. */
export * from './addition-doubts.ts';
export * from './caution-sign.ts';
export * from './cautions.ts';
export * from './method-cautions.ts';
export * from './mixing.ts';
