import { parentPort, workerData } from 'node:worker_threads';
import { measureModel, type Measured, type ModelKind } from './measure-model.ts';
import { ModelFault } from './model-fault.ts';

export interface Task {
  kind: ModelKind;
  bytes: Uint8Array<ArrayBuffer>;
}
export type Message = { progress: number } | { done: Measured } | { fault: string };

// The thread: one model, one answer.
const say = (message: Message) => parentPort?.postMessage(message);
try {
  const { kind, bytes } = workerData as Task;
  say({ done: await measureModel({ kind, bytes, onProgress: (progress) => say({ progress }) }) });
} catch (error) {
  if (!(error instanceof ModelFault)) throw error;
  say({ fault: error.message });
}
