interface Rows {
  items: unknown[];
  next: string | null;
}

/** Enough to go Back for; the oldest make room. */
const MOST = 30;

/**
 * Rows that were shown beyond the first page, by the entry of the browser's history that showed them; gone with the page.
 * Each person finds their own: who signs in after a colleague on one screen may not see what that one saw.
 */
export class KeptRows {
  readonly #kept = new Map<string, Rows & { personId: number | null }>();

  keep({ entry, personId, ...rows }: Rows & { entry: string; personId: number | null }): void {
    this.#kept.delete(entry);
    this.#kept.set(entry, { ...rows, personId });
    const [oldest] = this.#kept.keys();
    if (this.#kept.size > MOST && oldest !== undefined) this.#kept.delete(oldest);
  }

  find(entry: string, personId: number | null): Rows | null {
    const rows = this.#kept.get(entry);
    return rows?.personId === personId ? rows : null;
  }
}

export const keptRows = new KeptRows();
