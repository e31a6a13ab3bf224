import type { ProcessTrial } from './process-trial.ts';
import type { TrialOutcome } from './trial-outcomes.ts';

export interface SourcedTrial extends ProcessTrial {
  voltageV: number;
  source: string;
  /** P: read in a stored copy of the source. C: common practice, no source. */
  evidence: 'P' | 'C';
}

const PRACTICE = { source: 'common practice, no source', evidence: 'C' } as const;
const PAGE = {
  source:
    'web page of the authors of J. Electrochem. Soc. 154, C579 (2007): 50 % KOH, 70 °C, 2.0 V against steel, AISI 1010',
  evidence: 'P',
} as const;

interface Row {
  temperatureC: number;
  voltageV: number;
  outcome: TrialOutcome;
  timesS: readonly number[];
}

// prettier-ignore
const practice: readonly Row[] = [
  { temperatureC: 30, voltageV: 2.0,  outcome: 'none',         timesS: [120, 300, 600] },
  { temperatureC: 30, voltageV: 2.5,  outcome: 'none',         timesS: [120, 300, 600] },
  { temperatureC: 50, voltageV: 1.0,  outcome: 'none',         timesS: [120, 300, 600] },
  { temperatureC: 50, voltageV: 2.0,  outcome: 'interference', timesS: [60, 120, 300, 600] },
  { temperatureC: 50, voltageV: 2.25, outcome: 'interference', timesS: [60, 120, 300, 600] },
  { temperatureC: 50, voltageV: 2.5,  outcome: 'interference', timesS: [60, 120, 300, 600] },
  { temperatureC: 90, voltageV: 2.0,  outcome: 'dark',         timesS: [120, 300, 600] },
  { temperatureC: 90, voltageV: 2.5,  outcome: 'dark',         timesS: [120, 300, 600] },
];
const published: readonly Row[] = [
  { temperatureC: 70, voltageV: 2, outcome: 'interference', timesS: [60, 120, 180] },
];

const spread = (rows: readonly Row[], from: Pick<SourcedTrial, 'source' | 'evidence'>): SourcedTrial[] =>
  rows.flatMap(({ timesS, ...row }) =>
    timesS.map((timeS) => ({ ...row, timeS, massFraction: 0.5, ...from })),
  );

/**
 * A table to start a process map of low-carbon steel in 50 wt% KOH from, until the shop's own coupons take
 * its place: about 30 °C or too little voltage gives nothing, about 50 °C and 2 to 2.5 V interference
 * colours, about 90 °C black. The figures are nominal settings that practice names, each set down at the
 * times such work takes, not measured trials; alloy and heat treatment move every one of them.
 */
export const steelTrials: readonly SourcedTrial[] = [
  ...spread(practice, PRACTICE),
  ...spread(published, PAGE),
];
