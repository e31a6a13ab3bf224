// Starts the measuring thread from its TypeScript source: a thread does not inherit what lets its process read it.
import { register } from 'tsx/esm/api';

register();
await import('./measure-worker.ts');
