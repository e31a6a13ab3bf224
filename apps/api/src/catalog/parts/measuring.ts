import type { SqlExecutor } from '../../db/client.ts';
import { openFile } from '../../core/files/index.ts';
import type { ModelKind } from './measure-model.ts';
import { measureInThread, type Thread } from './measure-thread.ts';
import * as queries from './measurement-queries.ts';
import { ModelFault } from './model-fault.ts';

interface Job {
  id: number;
  fileId: number;
  sizeBytes: number;
  kind: ModelKind;
}

export interface Measuring {
  /** Measures when its turn comes. */
  add: (job: Job) => void;
  /** Ends what runs here, if it runs here; other processes notice at their next beat. */
  cancel: (id: number) => void;
  close: () => Promise<void>;
}

const HEARTBEAT_MS = 500;
const cancelled = new Error('cancelled');

/**
 * The queue of one process: one model at a time, so that measuring never takes the machine from those who work on it.
 * What it does stands in the database, where every process can see and cancel it.
 */
export function openMeasuring(
  execute: SqlExecutor,
  log: { error: (about: object, words: string) => void },
): Measuring {
  const queue: Job[] = [];
  let current: { id: number; thread: Thread | null } | null = null;
  let working: Promise<void> | null = null;
  let closed = false;

  const pulse = setInterval(() => void beat().catch(() => undefined), HEARTBEAT_MS);
  pulse.unref();
  async function beat() {
    if (queue.length > 0) {
      await queries.beatWaiting(
        execute,
        queue.map(({ id }) => id),
      );
    }
    const { id, thread } = current ?? { id: 0, thread: null };
    if (thread !== null && !(await queries.beat(execute, id, thread.progress()))) thread.end(cancelled);
  }

  async function work() {
    for (let job = queue.shift(); job !== undefined; job = queue.shift()) {
      const { id } = job;
      await measure(job).catch(async (error: unknown) => {
        if (error === cancelled) return;
        const known = error instanceof ModelFault;
        if (!known) log.error({ err: error, measurement: id }, 'measuring failed');
        const fault = known
          ? error.message
          : 'The model could not be measured. Type the area, or send another file.';
        await queries.fail(execute, [id], fault).catch(() => undefined);
      });
      current = null;
    }
    working = null;
  }

  async function measure(job: Job) {
    current = { id: job.id, thread: null };
    if (closed || !(await queries.takeUp(execute, job.id))) return;
    const bytes = await whole(job);
    if (closed) return;
    const thread = measureInThread({ kind: job.kind, bytes });
    current = { id: job.id, thread };
    await queries.finish(execute, job.id, await thread.finished);
  }

  async function whole({ fileId, sizeBytes }: Job): Promise<Uint8Array<ArrayBuffer>> {
    const bytes = new Uint8Array(sizeBytes);
    let at = 0;
    for await (const chunk of openFile(execute, fileId)) {
      bytes.set(chunk as Buffer, at);
      at += (chunk as Buffer).length;
    }
    return bytes;
  }

  return {
    add: (job) => {
      queue.push(job);
      working ??= work();
    },
    cancel: (id) => {
      if (current?.id === id) current.thread?.end(cancelled);
    },
    close: async () => {
      closed = true;
      clearInterval(pulse);
      const left = [...queue.splice(0).map(({ id }) => id), ...(current === null ? [] : [current.id])];
      current?.thread?.end(cancelled);
      await working;
      if (left.length > 0)
        await queries.fail(execute, left, 'The server was stopped while it was measuring. Measure again.');
    },
  };
}
