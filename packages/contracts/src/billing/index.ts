export * from './deliveries.ts';
export * from './returns.ts';
