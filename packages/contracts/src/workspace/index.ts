export * from './getting-started.ts';
export * from './import-fields.ts';
export * from './imports.ts';
export * from './named-colour.ts';
export * from './pages.ts';
export * from './search.ts';
export * from './today.ts';
export * from './trace.ts';
