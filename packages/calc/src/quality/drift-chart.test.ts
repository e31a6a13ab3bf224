import { describe, expect, it } from 'vitest';
import { driftChart, type DriftSample } from './drift-chart.ts';
import { ruleViolations } from './rule-violations.ts';

/** Yearly flow of the Nile at Aswan, 1871 to 1970, in 1e8 m3: the data set of Durbin and Koopman (2001), 2.2.2. */
const nile = [
  1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958,
  1140, 1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020,
  1050, 969, 831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040,
  759, 781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890,
  744, 749, 838, 1050, 918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740,
];
/** The dam at Aswan was begun in 1899. */
const DAM = 28;
const years = (workM2: (year: number) => number) =>
  nile.map((value, day): DriftSample => ({ day, value, workM2: workM2(day) }));

/** A generator with a seed (Park and Miller 1988), and normal values from it by Box and Muller. */
function normals(seed: number): () => number {
  let state = seed;
  const uniform = () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

/** A caustic bath as a shop keeps it: drawn down by time and work, topped up at 49.15 wt%, analysed every three days. */
function keptBath(seed: number, results = 40) {
  const normal = normals(seed);
  const samples: DriftSample[] = [];
  const restarts: number[] = [];
  let level = 50;
  for (let place = 0; place < results; place++) {
    const workM2 = Math.max(0, 0.8 + 0.5 * normal());
    level += -0.06 - 0.08 * workM2 + 0.02 * normal();
    if (level < 49.15) {
      level = 50 + 0.05 * normal();
      restarts.push(place);
    }
    samples.push({ day: 3 * place, value: level + 0.12 * normal(), workM2 });
  }
  return { samples, restarts };
}
const flagged = ({ samples, restarts }: ReturnType<typeof keptBath>) => {
  const { points } = driftChart({ samples, restarts, baseline: { from: 0, to: 24 } });
  const values = points.flatMap((point) => (point === null ? [] : [point.residual]));
  return ruleViolations({ values, centre: 0, sigma: 1, rules: ['N1', 'N2', 'N5', 'N6'] }).length;
};

describe('a level that wanders, against reference libraries', () => {
  // statsmodels 0.15.0, UnobservedComponents(nile, 'llevel', exog=t, mle_regression=True, use_exact_diffuse=True): maximum
  // likelihood takes the variance with divisor 99, this function with 99 less the effects found.
  it('finds drift, noise and wander of the Nile', () => {
    const chart = driftChart({ samples: years(() => 0) });
    expect(chart.driftPerDay).toBeCloseTo(-3.25827, 4);
    expect((chart.noiseVariance * 98) / 99 / 15_609.2).toBeCloseTo(1, 4);
    expect((chart.wanderVariancePerDay * 98) / 99 / 1131.5).toBeCloseTo(1, 3);
    const inMlUnits = chart.points.map((point) => point && point.residual * Math.sqrt(99 / 98));
    for (const [place, residual] of [
      [1, 0.24050952],
      [2, -1.09731468],
      [3, 0.94287566],
      [98, -0.96489508],
      [99, -0.53296496],
    ] as const)
      expect(inMlUnits[place]).toBeCloseTo(residual, 4);
    expect(chart.points[0]).toBeNull();
  });

  it('sees that a step which is given as work explains what looked like wander', () => {
    const chart = driftChart({ samples: years((year) => (year === DAM ? 1 : 0)) });
    expect(chart.driftPerM2).toBeCloseTo(-283.602, 2);
    expect(chart.driftPerDay).toBeCloseTo(0.71649, 4);
    expect(chart.wanderVariancePerDay).toBe(0);
    expect((chart.noiseVariance * 97) / 99 / 15_965.2).toBeCloseTo(1, 5);
  });
});

describe('a bath that is drawn down and topped up', () => {
  it('is quiet while it is kept as it was, where a chart about a centre is not', () => {
    const baths = Array.from({ length: 100 }, (_, seed) => keptBath(seed + 1));
    const judged = baths.reduce((sum, { samples }) => sum + samples.length, 0);
    const broken = baths.reduce((sum, bath) => sum + flagged(bath), 0);
    const about = baths.reduce((sum, { samples, restarts }) => {
      const values = samples.map(({ value }) => value);
      return (
        sum +
        ruleViolations({ values, restarts, centre: 49.5, sigma: 0.12, rules: ['N1', 'N2', 'N5', 'N6'] })
          .length
      );
    }, 0);
    // These four tests fire about once in 92 results of a process at rest (Champ and Woodall 1987, from memory).
    expect(broken / judged).toBeLessThan(1 / 40);
    expect(about / judged).toBeGreaterThan(0.3);
  });

  it('tells an addition that nobody wrote down', () => {
    const told = Array.from({ length: 100 }, (_, seed) => {
      const { samples, restarts } = keptBath(seed + 1);
      const free = samples.findIndex((_sample, place) => place > 25 && !restarts.includes(place));
      const added = samples.map((sample, place) =>
        place < free ? sample : { ...sample, value: sample.value + 0.8 },
      );
      const { points } = driftChart({ samples: added, restarts, baseline: { from: 0, to: 24 } });
      return (points[free]?.residual ?? 0) > 3;
    });
    expect(told.filter(Boolean).length).toBeGreaterThan(90);
  });

  it('expects nothing of the first result of a run, and starts from it', () => {
    const { samples } = keptBath(7);
    const { points } = driftChart({ samples, restarts: [10, 20] });
    expect(points.flatMap((point, place) => (point === null ? [place] : []))).toEqual([0, 10, 20]);
  });

  it('does not look past its baseline', () => {
    const { samples, restarts } = keptBath(3);
    const spoiled = samples.map((sample, place) => (place < 30 ? sample : { ...sample, value: 90 }));
    const baseline = { from: 0, to: 24 };
    const found = (of: readonly DriftSample[]) => driftChart({ samples: of, restarts, baseline });
    expect(found(spoiled).driftPerDay).toBe(found(samples).driftPerDay);
    expect(found(spoiled).points.slice(0, 30)).toEqual(found(samples).points.slice(0, 30));
  });
});

describe('refuses', () => {
  const samples = keptBath(1).samples.slice(0, 8);
  const argumentOf = (input: Parameters<typeof driftChart>[0]) => {
    try {
      driftChart(input);
    } catch (error) {
      return `${(error as { code: string }).code} ${(error as { argument: string }).argument}`;
    }
    return 'an answer';
  };
  it.each([
    ['malformed samples', { samples: [] }],
    ['out-of-range samples[1].day', { samples: samples.slice(0, 2).toReversed() }],
    ['out-of-range samples[0].workM2', { samples: samples.map((one) => ({ ...one, workM2: -1 })) }],
    ['out-of-range restarts[0]', { samples, restarts: [8] }],
    ['out-of-range baseline.to', { samples, baseline: { from: 3, to: 2 } }],
    ['impossible baseline', { samples, baseline: { from: 0, to: 2 } }],
    ['impossible baseline', { samples, restarts: [1, 2, 3, 4, 5, 6, 7] }],
    ['impossible baseline', { samples: samples.map(({ day }) => ({ day, value: 5, workM2: 0 })) }],
    ['impossible baseline', { samples: samples.map((one) => ({ ...one, day: 1, workM2: 0 })) }],
  ])('%s', (words, input) => expect(argumentOf(input)).toBe(words));
});
