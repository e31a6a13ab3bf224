import { exposedHours } from '@huelot/calc';
import type { ExposureInterruption } from '@huelot/contracts';

const HOUR_MS = 3_600_000;
const hoursBetween = (from: string | Date, to: string | Date) =>
  Math.max(0, (new Date(to).getTime() - new Date(from).getTime()) / HOUR_MS);

/** Hours of exposure from the start of a test until a moment, without its interruptions. */
export function exposureUntil({
  startedAt,
  until,
  interruptions,
}: {
  startedAt: string | Date;
  until: string | Date;
  interruptions: readonly Pick<ExposureInterruption, 'fromAt' | 'toAt'>[];
}): number {
  return exposedHours({
    untilH: hoursBetween(startedAt, until),
    interruptions: interruptions.map(({ fromAt, toAt }) => ({
      fromH: hoursBetween(startedAt, fromAt),
      toH: toAt === null ? null : hoursBetween(startedAt, toAt),
    })),
  });
}

export { hoursBetween };
