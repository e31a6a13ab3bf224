import type { FieldIssue, ProblemCode } from '@huelot/contracts';

/** A request that is understood and declined, with a sentence a person can act on. */
export class DomainError extends Error {
  readonly code: ProblemCode;
  readonly issues: FieldIssue[] | undefined;
  /** The record as it stands, when an edit clashed with another. */
  readonly current: unknown;

  constructor(code: ProblemCode, detail: string, extra: { issues?: FieldIssue[]; current?: unknown } = {}) {
    super(detail);
    this.name = 'Refusal';
    this.code = code;
    this.issues = extra.issues;
    this.current = extra.current;
  }
}

/**
 * Declines with a fault of one field.
 *
 * @example
 * throw invalid('lines.0.quantity', 'must be at most 480, the quantity ordered');
 */
export const fieldError = (path: string, message: string): DomainError =>
  new DomainError('invalid-input', `${path}: ${message}`, { issues: [{ path, message }] });

/**
 * What `found` holds, or a refusal that says what there is none of.
 *
 * @example
 * const part = found(await readPart(db, id), `part ${id}`);
 */
export function orNotFound<T>(value: T | null | undefined, what: string): T {
  if (value === null || value === undefined) throw new DomainError('not-found', `There is no ${what}.`);
  return value;
}

/**
 * Refuses an edit that started from an older version than the one stored.
 *
 * @example
 * checkVersion({ stored: part, version, what: 'This part' });
 */
export function assertVersion<T extends { version: number }>({
  stored,
  version,
  what,
}: {
  stored: T;
  version: number;
  what: string;
}): void {
  if (stored.version !== version) {
    throw new DomainError(
      'version-conflict',
      `${what} was changed by somebody else while you were editing. Both versions are shown; nothing was saved.`,
      { current: stored },
    );
  }
}
