import { CalcError } from '../errors.ts';
import type { SampleMethod } from './readings.ts';

/** Names of the titration functions' arguments, as the readings call them. */
const ownNames: Readonly<Record<string, string>> = {
  'sample.volumeMl': 'amount',
  'sample.massG': 'amount',
  sample: 'amount',
  sampleTemperatureC: 'temperatureC',
};

/** Does `work`; a fault it finds is placed at `place`, where the form has the field. */
export function within<T>(place: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    const { code, given, allowed } = error;
    throw new CalcError({ code, argument: placed(place, error.argument), given, allowed });
  }
}
function placed(place: string, argument: string): string {
  // Temperature and dilution are said once, for all flasks.
  const shared = /^sample\.(temperatureC|dilution\..*)$/.exec(argument)?.[1];
  return shared ?? `${place}.${ownNames[argument] ?? argument}`;
}

export const missingReplicates = (made: number, { replicates }: SampleMethod): string[] =>
  made < replicates
    ? [`the method wants ${replicates} replicates, and there is ${made === 1 ? 'one' : made}`]
    : [];

/** A spread above the limit, in words; nothing for one that is not. */
export function spreadQuestion({
  component,
  spread,
  limit,
  relative,
}: {
  component: string;
  spread: number;
  limit: number;
  relative: boolean;
}): string[] {
  if (spread <= limit) return [];
  const words = (share: number): string =>
    relative ? `${(100 * share).toPrecision(2)} %` : share.toPrecision(2);
  return [
    `the replicates of ${component} differ by ${words(spread)}, more than the ${words(limit)} of the method: repeat`,
  ];
}
