import type { FieldIssue, ProblemCode } from '@huelot/contracts';

/** `offline`: no answer came. `unreadable`: an answer came that is not what the contract promises. */
export type FailureCode = ProblemCode | 'offline' | 'unreadable';

interface Failure {
  code: FailureCode;
  detail: string;
  status?: number | undefined;
  issues?: FieldIssue[] | undefined;
  current?: unknown;
  reference?: string | undefined;
  cause?: unknown;
}

/**
 * Why a call of the API did not do what it was asked. `detail` is a sentence for the person; `issues` name fields;
 * `current` is the record as it is now when an edit clashed; `status` is 0 when no answer came.
 */
export class ApiProblem extends Error {
  readonly code: FailureCode;
  readonly detail: string;
  readonly status: number;
  readonly issues: FieldIssue[];
  readonly current: unknown;
  readonly reference: string | undefined;

  constructor(failure: Failure) {
    super(failure.detail, { cause: failure.cause });
    this.name = 'ApiProblem';
    this.code = failure.code;
    this.detail = failure.detail;
    this.status = failure.status ?? 0;
    this.issues = failure.issues ?? [];
    this.current = failure.current;
    this.reference = failure.reference;
  }
}

/**
 * Any thrown value as a problem that can be shown.
 *
 * @example
 * catch (error) { toasts.problem(asProblem(error)); }
 */
export function asProblem(error: unknown): ApiProblem {
  if (error instanceof ApiProblem) return error;
  return new ApiProblem({
    code: 'internal',
    detail: 'Something went wrong on this page. Reload it; what was saved is safe.',
    cause: error,
  });
}
