import {
  type Activity,
  type Competence,
  type CompetenceState,
  type Family,
  familyNames,
} from '@huelot/contracts';

export const competenceStates: Record<
  CompetenceState,
  { tone: 'good' | 'caution' | 'danger' | 'quiet' | 'info'; label: string }
> = {
  valid: { tone: 'good', label: 'valid' },
  'ends-soon': { tone: 'caution', label: 'ends soon' },
  later: { tone: 'info', label: 'to come' },
  expired: { tone: 'danger', label: 'expired' },
  withdrawn: { tone: 'quiet', label: 'withdrawn' },
};

export const familyWords = (family: Family | null): string =>
  family === null ? 'every family' : familyNames[family];

const rank: readonly CompetenceState[] = ['valid', 'ends-soon', 'later', 'expired'];
/** The best that somebody has for an activity in a family, what covers every family included; null where there is none. */
export function bestOf(
  items: readonly Competence[],
  { personId, activity, family }: { personId: number; activity: Activity; family: Family },
): Competence | null {
  const fitting = items.filter(
    (one) =>
      one.personId === personId &&
      one.activity === activity &&
      (one.family === null || one.family === family) &&
      one.state !== 'withdrawn',
  );
  return (
    fitting.toSorted(
      (one, other) =>
        rank.indexOf(one.state) - rank.indexOf(other.state) ||
        (other.untilOn ?? '9999').localeCompare(one.untilOn ?? '9999'),
    )[0] ?? null
  );
}
