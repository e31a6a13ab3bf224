export * from './certificates.ts';
export * from './colour-catalogue.ts';
export * from './colour-of-zone.ts';
export * from './colour-readings.ts';
export * from './colour-search.ts';
export * from './comparable-colour.ts';
export * from './first-articles.ts';
export * from './inspection.ts';
