import {
  cancelMeasurement,
  getMeasurement,
  measureFile,
  uploadFile,
  type Measurement,
} from '@huelot/contracts';
import { api, asProblem, upload, type ApiProblem } from '$lib/api.ts';

const POLL_INTERVAL_MS = 700;
const isOver = ({ status }: Measurement) => status !== 'waiting' && status !== 'running';

/**
 * A model file on its way to an area: sent, then measured by the server, then here.
 *
 * @example
 * const measuring = new Measuring(part.measurement, (measurement) => (form.values.geometry.measurementId = measurement.id));
 */
export class Measuring {
  stage = $state<'idle' | 'sending' | 'measuring'>('idle');
  /** How far the sending is, from 0 to 1. */
  sent = $state(0);
  measurement = $state.raw<Measurement | null>(null);
  problem = $state.raw<ApiProblem | null>(null);
  readonly #done: (measurement: Measurement) => void;
  #abort = new AbortController();

  constructor(measurement: Measurement | null, done: (measurement: Measurement) => void) {
    this.measurement = measurement;
    this.#done = done;
  }

  async start(file: File): Promise<void> {
    this.stop();
    const { signal } = (this.#abort = new AbortController());
    this.problem = null;
    this.measurement = null;
    this.sent = 0;
    this.stage = 'sending';
    try {
      const form = new FormData();
      form.set('file', file);
      const stored = await upload(uploadFile, { form, signal, onProgress: (share) => (this.sent = share) });
      this.stage = 'measuring';
      this.measurement = await api(measureFile, { body: { fileId: stored.id }, signal });
      await this.#wait(this.measurement.id, signal);
    } catch (error) {
      if (!signal.aborted) this.problem = asProblem(error);
    } finally {
      if (!signal.aborted) this.stage = 'idle';
    }
  }

  async #wait(id: number, signal: AbortSignal) {
    for (;;) {
      const measurement = await api(getMeasurement, { params: { id }, signal });
      this.measurement = measurement;
      if (isOver(measurement)) {
        if (measurement.status === 'done') this.#done(measurement);
        return;
      }
      await new Promise((resolve) => setTimeout(resolve, POLL_INTERVAL_MS));
    }
  }

  /** Stops the sending, or the measuring on the server. */
  async cancel(): Promise<void> {
    const { measurement } = this;
    this.stop();
    this.stage = 'idle';
    if (measurement === null || isOver(measurement)) return;
    try {
      this.measurement = await api(cancelMeasurement, { params: { id: measurement.id } });
    } catch (error) {
      this.problem = asProblem(error);
    }
  }

  /** Asks no more, as when the page is left. */
  stop() {
    this.#abort.abort();
  }
}
