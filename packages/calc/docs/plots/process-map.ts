import { processMap, type ProcessMapPoint, steelTrials, type TrialOutcome } from '../../src/index.ts';
import { drawChart, type Mark } from './chart.ts';
import { steps } from './steps.ts';
import { INK, PAPER } from './svg.ts';

const LOOK = {
  none: { fill: '#b9b2a2', shape: 'circle', words: 'no film' },
  interference: { fill: '#3f8fb5', shape: 'diamond', words: 'interference colours' },
  dark: { fill: '#3a3d45', shape: 'square', words: 'dark' },
} as const satisfies Partial<Record<TrialOutcome, object>>;

const hasLook = (outcome: TrialOutcome): outcome is keyof typeof LOOK => outcome in LOOK;

const AT = { timeS: 300, massFraction: 0.5 };
const TEMPERATURES = steps(20, 100, 40);
const VOLTAGES = steps(0.5, 3.5, 40);

const likelihood = ({ class: name, probabilities }: ProcessMapPoint): number =>
  name === 'untested' ? 0 : (probabilities?.[name] ?? 0);

/** What five minutes in 50 % KOH give low-carbon steel, by temperature and voltage; blank where nobody has tried. */
export function processMapOfSteel(): string {
  const cells = TEMPERATURES.slice(0, -1).flatMap((from, i) =>
    VOLTAGES.slice(0, -1).flatMap((low, j) => {
      const [to = from, high = low] = [TEMPERATURES[i + 1], VOLTAGES[j + 1]];
      const at = { ...AT, temperatureC: (from + to) / 2, voltageV: (low + high) / 2 };
      const point = processMap({ trials: steelTrials, at });
      if (point.class === 'untested' || !hasLook(point.class)) return [];
      return [
        {
          x: [from, to] as const,
          y: [low, high] as const,
          fill: LOOK[point.class].fill,
          opacity: 0.2 + 0.7 * likelihood(point),
        },
      ];
    }),
  );
  const outcomes = Object.entries(LOOK);
  const marks: Mark[] = [
    { kind: 'cells', cells },
    ...outcomes.map(([outcome, { shape }]): Mark => {
      const trials = steelTrials.filter((trial) => trial.outcome === outcome);
      return {
        kind: 'dots',
        points: trials.map(({ temperatureC, voltageV }) => [temperatureC, voltageV]),
        colour: INK.strong,
        shape,
      };
    }),
    ...outcomes.map(([, { fill, shape, words }], row): Mark => ({
      kind: 'key',
      row,
      words,
      colour: INK.strong,
      shape,
      fill,
    })),
    { kind: 'key', row: 3.2, words: 'blank: untested', colour: INK.soft, shape: 'square', fill: PAPER },
  ];
  return drawChart({
    title: 'Low-carbon steel in 50 % KOH, five minutes',
    subtitle: 'processMap() from nominal trials (common practice, no source). Paler: less certain.',
    description:
      'No film near 30 degrees, interference colours near 50 to 70 degrees and 2 to 2.5 volts, dark near 90 degrees; blank away from the trials.',
    x: { label: 'bath, °C', domain: [20, 100] },
    y: { label: 'cell voltage, V', domain: [0.5, 3.5] },
    marks,
    labelWidth: 190,
  });
}
