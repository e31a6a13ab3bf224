export * from './http.ts';
export * from './permissions.ts';
export * from './problems.ts';
export * from './scalars.ts';
