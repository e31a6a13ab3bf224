export * from './currencies.ts';
export * from './http.ts';
export * from './issue-words.ts';
export * from './numbers.ts';
export * from './permissions.ts';
export * from './problems.ts';
export * from './responses.ts';
export * from './scalars.ts';
