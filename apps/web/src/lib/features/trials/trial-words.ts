import {
  isTrialDriven,
  usualCautions,
  type CouponSeries,
  type TankContents,
  type TrialObstacle,
  type TrialRun,
  type TrialRunItem,
  type TrialRunState,
} from '@huelot/contracts';
import { format } from '$lib/format/format.ts';

/** How a trial that is run at a tank is marked. */
export const trialStates: Record<
  TrialRunState,
  { label: string; tone: 'info' | 'good' | 'quiet' | 'caution' }
> = {
  planned: { label: 'planned', tone: 'info' },
  running: { label: 'in the bath', tone: 'caution' },
  signed: { label: 'signed', tone: 'good' },
  withdrawn: { label: 'withdrawn', tone: 'quiet' },
};

type Planned = Pick<
  TrialRunItem,
  'kind' | 'pieces' | 'temperatureC' | 'voltageV' | 'timeS' | 'intervalS' | 'stepMm' | 'coatingThicknessUm'
>;

/** What is usual to be warned of where coupons or a strip are run in such a bath. */
export const trialCautions = (contents: TankContents) =>
  usualCautions({
    kind: contents === 'dye' ? 'dye' : 'colour',
    contents,
    onSupply: isTrialDriven(contents),
  });

/** `7 bands, 10.0 mm every 60 s` */
export const piecesText = ({ kind, pieces, stepMm, intervalS }: Planned): string =>
  kind === 'coupons'
    ? `${pieces} ${pieces === 1 ? 'coupon' : 'coupons'}`
    : `strip of ${pieces} bands, ${format.quantity('length', stepMm ?? 0)} every ${format.quantity('shortDuration', intervalS ?? 0)}`;

/** `50.0 °C, 2.20 V, 8.0 min` */
export const settingText = ({ temperatureC, voltageV, timeS, coatingThicknessUm }: Planned): string =>
  [
    format.quantity('temperature', temperatureC),
    ...(voltageV === null ? [] : [format.quantity('voltage', voltageV)]),
    ...(timeS === null ? [] : [format.quantity('duration', timeS)]),
    ...(coatingThicknessUm === null ? [] : [`on ${format.quantity('coatingThickness', coatingThicknessUm)}`]),
  ].join(', ');

/** Why a trial cannot go in yet, and what would change that. */
export function obstacleText(
  obstacle: TrialObstacle,
  { tank, component }: { tank: Pick<TrialRun['tank'], 'code'>; component: CouponSeries['component'] },
): string {
  switch (obstacle) {
    case 'no-bath':
      return `Tank ${tank.code} has no bath in it: make one up first.`;
    case 'not-filled':
      return `The bath in tank ${tank.code} is not filled yet: its make-up is not done.`;
    case 'other-contents':
      return `Tank ${tank.code} holds something else by now: withdraw the trial and plan it again.`;
    case 'strength-not-watched':
      return `The monitoring plan of tank ${tank.code} does not state ${component} as the series does, so the trial would have no concentration.`;
    case 'not-analysed':
      return `The ${component} in tank ${tank.code} was never analysed: analyse it first.`;
    case 'changed-since':
      return `Something was added to tank ${tank.code} after the last analysis of ${component}: analyse it first.`;
  }
}
