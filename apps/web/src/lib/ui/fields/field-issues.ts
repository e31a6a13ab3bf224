import { getContext, setContext } from 'svelte';

/** What was refused in a dialog, for the fields inside it to show where they stand. */
export interface FieldIssues {
  messageOf: (name: string) => string | undefined;
  /** Says that a field of this name is on the screen; the answer takes it back. */
  show: (name: string) => () => void;
}

const key = Symbol('field issues');

export const provideFieldIssues = (issues: FieldIssues): FieldIssues => setContext(key, issues);
export const fieldIssues = (): FieldIssues | undefined => getContext<FieldIssues | undefined>(key);
