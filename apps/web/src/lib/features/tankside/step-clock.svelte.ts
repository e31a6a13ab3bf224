import type { TravelerStep } from '@huelot/contracts';
import { serverNow } from '$lib/server-clock.ts';
import type { Waiting } from './queue.svelte.ts';

type Stamped = Pick<TravelerStep, 'id' | 'run' | 'durationS'>;
interface Sources {
  step: () => Stamped;
  /** What was done at the lot and is not on the server yet. */
  waiting: () => Waiting[];
}

/**
 * The clock of one step, made of the stamps In and Out: those of the server, which every tablet sees, and those of
 * this tablet that are still to be sent. It runs by the clock of the server and stops with Out.
 */
export class StepClock {
  /** ms by the clock of the server; moved on by {@link run}. */
  nowMs = $state(serverNow());
  readonly #sources: Sources;

  constructor(sources: Sources) {
    this.#sources = sources;
  }

  get inMs(): number | null {
    return this.#stamp('in') ?? msOf(this.#sources.step().run?.inAt);
  }

  get outMs(): number | null {
    return this.#stamp('out') ?? msOf(this.#sources.step().run?.outAt);
  }

  get isRunning(): boolean {
    return this.inMs !== null && this.outMs === null;
  }

  /** Whole seconds from In to Out, or to now; null before In. */
  get elapsedS(): number | null {
    const { inMs, outMs } = this;
    return inMs === null ? null : Math.max(0, Math.floor(((outMs ?? this.nowMs) - inMs) / 1000));
  }

  /** What is recorded as the time of the step: nothing before the load is out. */
  get recordedS(): number | null {
    return this.outMs === null ? null : this.elapsedS;
  }

  /** Seconds that are left; below zero once the time is over; null while the clock does not run. */
  get leftS(): number | null {
    return this.isRunning ? this.#sources.step().durationS - (this.elapsedS ?? 0) : null;
  }

  get isUp(): boolean {
    return this.#sources.step().durationS > 0 && this.leftS !== null && this.leftS <= 0;
  }

  /** Ticks while somebody looks; returns what stops it. */
  run(): () => void {
    const tick = setInterval(() => (this.nowMs = serverNow()), 250);
    return () => clearInterval(tick);
  }

  #stamp(kind: 'in' | 'out'): number | null {
    const { id } = this.#sources.step();
    const item = this.#sources.waiting().find((one) => one.stepId === id && one.kind === kind);
    return item !== undefined && item.kind !== 'sign' ? item.happenedAtMs : null;
  }
}

const msOf = (instant: string | null | undefined): number | null =>
  instant === null || instant === undefined ? null : Date.parse(instant);

/**
 * Seconds as a clock shows them.
 *
 * @example
 * clockText(605) // '10:05'
 */
export function clockText(seconds: number): string {
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, Math.floor(seconds) % 60];
  const two = (n: number) => String(n).padStart(2, '0');
  return h > 0 ? `${h}:${two(m)}:${two(s)}` : `${m}:${two(s)}`;
}
