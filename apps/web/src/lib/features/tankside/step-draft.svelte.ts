import { keepStepDraft, type StepDraft, type StepQuantity, type TravelerStep } from '@huelot/contracts';
import { api } from '$lib/api.ts';

const storageKey = (personId: number, stepId: number) => `huelot.tankside.draft.${personId}.${stepId}`;
const DEBOUNCE_MS = 1200;

/**
 * What one person typed at a step: on this tablet at once, so that a reload or a look at another step loses nothing;
 * on the server a moment later, so that a second operator sees it and a second tablet goes on with it.
 */
export class DraftOfStep {
  values = $state<Partial<Record<StepQuantity, number | null>>>({});
  instruments = $state<Partial<Record<StepQuantity, string>>>({});
  /** Chosen at this step; without a choice it is what reads here by itself. */
  #instrumentIds = $state<Partial<Record<StepQuantity, number | null>>>({});
  rejectCount = $state<number | null>(0);
  countDifference = $state<number | null>(0);
  countReason = $state('');
  reason = $state('');
  note = $state('');
  readonly #personId: number;
  readonly #step: TravelerStep;
  #kept: string;
  #sending: ReturnType<typeof setTimeout> | undefined;

  constructor(step: TravelerStep, personId: number) {
    this.#step = step;
    this.#personId = personId;
    const own = step.drafts.find((one) => one.personId === personId)?.draft ?? null;
    const local = readDraft(localStorage.getItem(storageKey(personId, step.id)));
    this.#fill(local ?? own);
    // What a reload kept from being sent is sent now.
    this.#kept = local === null || JSON.stringify(local) === JSON.stringify(own) ? this.#text() : '';
  }

  /** As it crosses the wire; reading it in an effect follows every field. */
  get shape(): StepDraft {
    return {
      readings: this.#step.record.map((quantity) => ({
        quantity,
        value: this.values[quantity] ?? null,
        instrument: this.instruments[quantity] ?? '',
        ...(this.#instrumentIds[quantity] === undefined
          ? {}
          : { instrumentId: this.#instrumentIds[quantity] }),
      })),
      rejectCount: this.rejectCount,
      countDifference: this.countDifference,
      countReason: this.countReason,
      reason: this.reason,
      note: this.note,
    };
  }

  /** The instrument that reads a figure: chosen, or what reads here by itself; null where it is in words. */
  instrumentOf(quantity: StepQuantity): number | null {
    const chosen = this.#instrumentIds[quantity];
    if (chosen !== undefined) return chosen;
    return this.#step.instruments.find((one) => one.quantity === quantity)?.id ?? null;
  }

  /** Names what a figure is read with. */
  read(quantity: StepQuantity, { id, words }: { id: number | null; words: string }) {
    this.#instrumentIds[quantity] = id;
    this.instruments[quantity] = words;
  }

  keep() {
    const text = this.#text();
    if (text === this.#kept) return;
    this.#kept = text;
    localStorage.setItem(storageKey(this.#personId, this.#step.id), text);
    clearTimeout(this.#sending);
    // Without network the tablet has it all the same.
    this.#sending = setTimeout(
      () =>
        void api(keepStepDraft, { params: { id: this.#step.id }, body: JSON.parse(text) as StepDraft }).catch(
          () => undefined,
        ),
      DEBOUNCE_MS,
    );
  }

  /** The step is signed. */
  drop() {
    clearTimeout(this.#sending);
    localStorage.removeItem(storageKey(this.#personId, this.#step.id));
  }

  #text = () => JSON.stringify(this.shape);

  #fill(draft: StepDraft | null) {
    if (draft === null) return;
    for (const { quantity, value, instrument, instrumentId } of draft.readings) {
      if (value !== null) this.values[quantity] = value;
      if (instrument !== '') this.instruments[quantity] = instrument;
      if (instrumentId !== undefined) this.#instrumentIds[quantity] = instrumentId;
    }
    this.rejectCount = draft.rejectCount;
    this.countDifference = draft.countDifference;
    this.countReason = draft.countReason;
    this.reason = draft.reason;
    this.note = draft.note;
  }
}

function readDraft(text: string | null): StepDraft | null {
  if (text === null) return null;
  try {
    return JSON.parse(text) as StepDraft;
  } catch {
    return null;
  }
}
