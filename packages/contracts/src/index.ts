export * from './http.ts';
export * from './permissions.ts';
export * from './problems.ts';
export * from './scalars.ts';
export * from './people.ts';
export * from './audit.ts';
