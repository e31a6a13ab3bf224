const shelfOf = (stepId: number) => `huelot.tankside.timer.${stepId}`;

/** The clock of one step: survives a reload, since a tablet may sleep while a lot is in the tank. */
export class StepTimer {
  startedAt = $state<number | null>(null);
  now = $state(Date.now());
  readonly #stepId: number;

  constructor(stepId: number) {
    this.#stepId = stepId;
    const kept = Number(localStorage.getItem(shelfOf(stepId)) ?? Number.NaN);
    this.startedAt = Number.isFinite(kept) ? kept : null;
  }

  /** Whole seconds since the start; null before it. */
  get elapsedS(): number | null {
    return this.startedAt === null ? null : Math.max(0, Math.floor((this.now - this.startedAt) / 1000));
  }

  start() {
    this.startedAt = Date.now();
    this.now = this.startedAt;
    localStorage.setItem(shelfOf(this.#stepId), String(this.startedAt));
  }

  clear() {
    this.startedAt = null;
    localStorage.removeItem(shelfOf(this.#stepId));
  }

  /** Ticks while somebody looks; returns what stops it. */
  run(): () => void {
    const tick = setInterval(() => (this.now = Date.now()), 500);
    return () => clearInterval(tick);
  }
}

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
