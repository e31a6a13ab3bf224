import { intervalSurvival } from '@huelot/calc';
import type {
  ExposureGroup,
  ExposureInterruption,
  ExposureResult,
  ExposureSpecimen,
} from '@huelot/contracts';
import { exposureUntil, hoursBetween } from './hours.ts';

const MINUTE_H = 1 / 60;
const groupKey = ({ material, finish, film, protective }: ExposureSpecimen) =>
  [material.id, finish, film.trim().toLowerCase(), protective.trim().toLowerCase()].join('\n');

/** Specimens of one alloy, film and oil together: nothing else may be spoken of as one. */
function groupsOf(specimens: readonly ExposureSpecimen[]): ExposureGroup[] {
  const groups = new Map<string, ExposureSpecimen[]>();
  for (const specimen of specimens) {
    const group = groups.get(groupKey(specimen));
    if (group === undefined) groups.set(groupKey(specimen), [specimen]);
    else group.push(specimen);
  }
  return [...groups.values()].flatMap((group) => {
    const [first] = group;
    if (first === undefined) return [];
    const { material, finish, film, protective } = first;
    const spans = group.map(({ firstCorrosion: { afterH, byH } }) =>
      // Seen before the first hour of exposure began, where an interruption was entered later.
      byH !== null && byH <= afterH ? { afterH, byH: afterH + MINUTE_H } : { afterH, byH },
    );
    return [
      {
        ...{ material, finish, film, protective, specimens: group.length },
        corroded: spans.filter(({ byH }) => byH !== null).length,
        steps: intervalSurvival({ spans }),
      },
    ];
  });
}

/** What a test says at a moment: its end, or now. */
export function resultOf({
  startedAt,
  until,
  specimens,
  interruptions,
  missedLooks,
  readingsOutside,
}: {
  startedAt: string;
  until: string | Date;
  specimens: readonly ExposureSpecimen[];
  interruptions: readonly ExposureInterruption[];
  missedLooks: number;
  readingsOutside: number;
}): ExposureResult {
  const exposedHours = exposureUntil({ startedAt, until, interruptions });
  return {
    ...{ exposedHours, missedLooks, readingsOutside },
    interruptedHours: Math.max(0, hoursBetween(startedAt, until) - exposedHours),
    groups: groupsOf(specimens),
  };
}

/** Of a test that has not started. */
export const noResult: ExposureResult = {
  ...{ exposedHours: 0, missedLooks: 0, readingsOutside: 0, interruptedHours: 0, groups: [] },
};
