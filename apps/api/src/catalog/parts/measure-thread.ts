import { existsSync } from 'node:fs';
import path from 'node:path';
import { Worker } from 'node:worker_threads';
import type { Measured } from './measure-model.ts';
import type { Message, Task } from './measure-worker.ts';
import { ModelFault } from './model-fault.ts';

const MB = 1024 * 1024;
/** What one measurement may take. The thread is ended at either. */
export const bounds = { seconds: 300, bytes: 1536 * MB };

export interface Thread {
  /** The measure, or a {@link ModelFault} with words; rejects with another error when something broke. */
  finished: Promise<Measured>;
  /** How far it is, from 0 to 1. */
  progress: () => number;
  /** Ends it; `finished` then rejects with `reason`. */
  end: (reason: Error) => void;
}

/** Measures a model in a thread of its own, so that requests go on beside it, within bounds of time and memory. */
export function measureInThread(task: Task, { seconds, bytes } = bounds): Thread {
  let progress = 0;
  const worker = startWorker(task);
  const before = process.memoryUsage().rss;
  const started = Date.now();

  let fail: (reason: Error) => void = () => undefined;
  const finished = new Promise<Measured>((resolve, reject) => {
    fail = reject;
    worker.on('message', (message: Message) => {
      if ('progress' in message) progress = message.progress;
      else if ('done' in message) resolve(message.done);
      else reject(new ModelFault(message.fault));
    });
    worker.on('error', (error: Error & { code?: string }) => {
      reject(error.code === 'ERR_WORKER_OUT_OF_MEMORY' ? tooBig(bytes) : error);
    });
  });
  const end = (reason: Error) => {
    fail(reason);
    void worker.terminate();
  };
  // Memory of WebAssembly is outside the limits a thread can be given, so the process watches itself.
  const watch = setInterval(() => {
    if (Date.now() - started > seconds * 1000) {
      end(new ModelFault(`Measuring took longer than ${seconds} s. Simplify the model, or type the area.`));
    } else if (process.memoryUsage().rss - before > bytes) {
      end(tooBig(bytes));
    }
  }, 250);
  worker.on('exit', () => {
    clearInterval(watch);
    fail(new Error('the measuring thread ended without an answer'));
  });
  return { finished, progress: () => progress, end };
}

const tooBig = (bytes: number) =>
  new ModelFault(
    `Measuring needs more than ${bytes / MB} MB of memory. Simplify the model, or type the area.`,
  );

function startWorker(task: Task): Worker {
  return new Worker(workerFile(), {
    workerData: task,
    transferList: [task.bytes.buffer],
    resourceLimits: { maxOldGenerationSizeMb: 1024, maxYoungGenerationSizeMb: 128 },
  });
}

/** Beside this file in the source; at the top of the build, wherever the bundler put this module. */
function workerFile(): string {
  const places = ['measure-worker-source.mjs', 'measure-worker.js', '../measure-worker.js'];
  const found = places.map((place) => path.join(import.meta.dirname, place)).find((file) => existsSync(file));
  if (found === undefined) throw new Error(`there is no measure-worker beside ${import.meta.dirname}`);
  return found;
}
