import type { Issue, ProblemCode } from '@huelot/contracts';

/** A request that is understood and declined, with a sentence a person can act on. */
export class Refusal extends Error {
  readonly code: ProblemCode;
  readonly issues: Issue[] | undefined;
  /** The record as it stands, when an edit clashed with another. */
  readonly current: unknown;

  constructor(code: ProblemCode, detail: string, more: { issues?: Issue[]; current?: unknown } = {}) {
    super(detail);
    this.name = 'Refusal';
    this.code = code;
    this.issues = more.issues;
    this.current = more.current;
  }
}

/**
 * Declines with a fault of one field.
 *
 * @example
 * throw invalid('lines.0.quantity', 'must be at most 480, the quantity ordered');
 */
export const invalid = (path: string, message: string): Refusal =>
  new Refusal('invalid-input', `${path}: ${message}`, { issues: [{ path, message }] });

/**
 * What `found` holds, or a refusal that says what there is none of.
 *
 * @example
 * const part = found(await readPart(db, id), `part ${id}`);
 */
export function found<T>(value: T | null | undefined, what: string): T {
  if (value === null || value === undefined) throw new Refusal('not-found', `There is no ${what}.`);
  return value;
}

/**
 * Refuses an edit that started from an older version than the one stored.
 *
 * @example
 * checkVersion({ stored: part, version, what: 'This part' });
 */
export function checkVersion<T extends { version: number }>(of: {
  stored: T;
  version: number;
  what: string;
}): void {
  if (of.stored.version !== of.version) {
    throw new Refusal(
      'changed-meanwhile',
      `${of.what} was changed by somebody else while you were editing it. Both versions are shown; nothing was saved.`,
      { current: of.stored },
    );
  }
}
