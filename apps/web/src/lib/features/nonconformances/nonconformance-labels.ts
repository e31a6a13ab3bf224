import type { NonconformanceState } from '@huelot/contracts';
import { capitalise } from '$lib/format/capitalise.ts';

/** How the state of a nonconformance is told: word and tone. */
export const nonconformanceStates = {
  open: { label: 'open', tone: 'caution' },
  closed: { label: 'closed', tone: 'good' },
} as const satisfies Record<NonconformanceState, { label: string; tone: string }>;

/** The names of a controlled list as choices of a field. */
export const choicesOf = <K extends string>(names: Readonly<Record<K, string>>) =>
  (Object.keys(names) as K[]).map((value) => ({ value, label: capitalise(names[value]) }));
