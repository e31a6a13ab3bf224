import { isColourOutcome } from '@huelot/calc';
import { programmeSeconds, type CouponTrial } from '@huelot/contracts';
import type { ColourStep } from './queries.ts';

/** A setting that a step asks for, with the range in which a coupon counts for it. */
export interface Aim {
  quantity: 'temperatureC' | 'voltageV' | 'timeS';
  target: number;
  low: number;
  high: number;
}

/** How near a coupon must have been made where a step states no limits (house rule, no source). */
const NEAR = { temperatureC: 3, share: 0.1 };
/** Limits are sums of decimals: a coupon at the very limit counts. */
const SLACK = 1e-6;

/**
 * What a colour step asks of the tank, as far as coupons record it: temperature, voltage and time under voltage.
 *
 * @example
 * aimsOf(step).map(({ quantity }) => quantity) // ['temperatureC', 'voltageV', 'timeS']
 */
export function aimsOf({ settings, electrical, durationS }: ColourStep): Aim[] {
  const limits = (name: string) => settings.find(({ quantity }) => quantity === name);
  const held = electrical?.mode === 'voltage' ? electrical.programme.at(-1)?.to : undefined;
  const temperature = limits('temperatureC');
  const voltage = limits('voltageV');
  return [
    ...aim('temperatureC', { ...temperature, fallback: undefined, width: () => NEAR.temperatureC }),
    ...aim('voltageV', { ...voltage, fallback: held, width: shareOf }),
    ...(electrical === null
      ? aim('timeS', { ...limits('durationS'), fallback: durationS, width: shareOf })
      : aim('timeS', { fallback: programmeSeconds(electrical.programme), width: shareOf })),
  ];
}

const shareOf = (target: number) => NEAR.share * target;

function aim(
  quantity: Aim['quantity'],
  asked: {
    target?: number | null;
    low?: number | null;
    high?: number | null;
    fallback: number | undefined;
    width: (target: number) => number;
  },
): Aim[] {
  const { low = null, high = null } = asked;
  const middle = low === null || high === null ? asked.fallback : (low + high) / 2;
  const target = asked.target ?? middle;
  if (target === undefined) return [];
  const width = asked.width(target);
  return [{ quantity, target, low: low ?? target - width, high: high ?? target + width }];
}

/** The coupons that took a colour where a step asks for one; a fault is none, and no coupon outside one of its limits is. */
export function couponsAt(step: ColourStep, trials: readonly CouponTrial[]): CouponTrial[] {
  const aims = aimsOf(step);
  return trials.filter(
    (trial) =>
      trial.outcome !== null &&
      isColourOutcome(trial.outcome) &&
      aims.every(({ quantity, low, high }) => {
        const value = trial[quantity];
        return value !== null && value >= low - SLACK && value <= high + SLACK;
      }),
  );
}

const units: Record<Aim['quantity'], string> = { temperatureC: '°C', voltageV: 'V', timeS: 's' };
const figure = (value: number) => Number(value.toFixed(2)).toString();

/** What a step asks for: `27.5 to 28.5 V, 18 to 24 °C`. */
export const aimsInWords = (step: ColourStep): string =>
  aimsOf(step)
    .map(({ quantity, low, high }) => `${figure(low)} to ${figure(high)} ${units[quantity]}`)
    .join(', ');
