/**
 * The key of a write that may be sent again: the same words keep their key, so that an answer that was lost on the way
 * is not booked twice; changed words are a new write.
 *
 * @example
 * const write = new OneWrite();
 * await api(recordAnalysis, { params, body, idempotencyKey: write.keyOf(body) });
 */
export class OneWrite {
  #words = '';
  #key = '';

  keyOf(body: unknown): string {
    const words = JSON.stringify(body);
    if (words !== this.#words || this.#key === '') {
      this.#words = words;
      this.#key = crypto.randomUUID();
    }
    return this.#key;
  }
}
