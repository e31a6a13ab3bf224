import { acceptanceProbability } from '../../src/index.ts';
import { readCsv, groupedBy } from '../../reference/csv.ts';
import { drawChart, type Mark, type Point } from './chart.ts';
import { steps } from './steps.ts';
import { series } from './svg.ts';

const checks = groupedBy('letter', readCsv('quality/oc_checks.csv'));

/** Operating characteristic of the normal plans at AQL 1.0 to 2.5 that a small shop meets. */
export function operatingCharacteristic(): string {
  const marks = [...checks].flatMap(([letter, rows], i): Mark[] => {
    const plan = { n: Number(rows[0]?.['n']), ac: Number(rows[0]?.['ac']) };
    const curve = steps(0, 10, 120).map((percent): Point => [
      percent,
      acceptanceProbability({ ...plan, fractionNonconforming: percent / 100 }).probability,
    ]);
    const points = rows.map((row): Point => [100 * Number(row['fraction']), Number(row['pa_binomial'])]);
    const label = `${letter}: n ${plan.n}, Ac ${plan.ac}`;
    return [
      { kind: 'line', points: curve, colour: series(i), label },
      { kind: 'dots', points, colour: series(i) },
    ];
  });
  return drawChart({
    title: 'Operating characteristic of single plans',
    subtitle: 'Lines: acceptanceProbability(). Circles: tabulated binomial probabilities.',
    description:
      'The probability of accepting a lot falls with its fraction nonconforming, steeply for large samples and slowly for small ones.',
    x: { label: 'nonconforming in the lot, %', domain: [0, 10] },
    y: { label: 'probability of acceptance', domain: [0, 1] },
    marks,
    labelWidth: 140,
  });
}
