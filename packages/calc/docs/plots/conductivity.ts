import { conductivity, type Solute } from '../../src/index.ts';
import { readCsv } from '../../reference/csv.ts';
import { drawChart, type Mark, type Point } from './chart.ts';
import { steps } from './steps.ts';
import { INK, series } from './svg.ts';

const published = readCsv('bath/conductivity_other.csv');

const measured = (solute: string, source: string): Point[] =>
  published
    .filter((row) => row['solute'] === solute && row['source']?.startsWith(source))
    .map((row): Point => [Number(row['wt_pct']), Number(row['sigma_mS_per_cm']) / 10]);

/** Potassium hydroxide: the fit where it was fitted, dashed where it only stands in, and an older series beside it. */
export function conductivityOfPotash(): string {
  const marks = [15, 20, 40, 60, 80].flatMap((temperatureC, i): Mark[] => {
    const all = steps(0, 50, 100).map((percent) => {
      const { siemensPerM, flags } = conductivity({
        solute: 'KOH',
        massFraction: percent / 100,
        temperatureC,
      });
      return { point: [percent, siemensPerM] as Point, within: flags.length === 0 };
    });
    const inside = all.filter(({ within }) => within).map(({ point }) => point);
    const last = inside.at(-1);
    const outside = all.filter(({ within }) => !within).map(({ point }) => point);
    return [
      { kind: 'line', points: inside, colour: series(i) },
      {
        kind: 'line',
        points: [...(last ? [last] : []), ...outside],
        colour: series(i),
        dashed: true,
        label: `${temperatureC} °C`,
      },
    ];
  });
  return drawChart({
    title: 'Conductivity of potassium hydroxide',
    subtitle:
      'Lines: conductivity() after Gilliam 2007, dashed past 12 mol/L. Circles: older series at 15 °C, from memory.',
    description:
      'Conductivity rises to a maximum near 30 per cent and falls; hotter is higher. The older series at 15 °C lies up to 8 per cent above the fit.',
    x: { label: 'mass of KOH, %', domain: [0, 50] },
    y: { label: 'conductivity, S/m', domain: [0, 150] },
    marks: [...marks, { kind: 'dots', points: measured('KOH', 'Kohlrausch'), colour: series(0) }],
    labelWidth: 90,
  });
}

const OTHERS: { solute: Solute; label: string; source: string; to: number; at: number; name: Point }[] = [
  { solute: 'H2SO4', label: 'H₂SO₄, 25 °C', source: 'GU1997', to: 45, at: 25, name: [45.5, 74] },
  { solute: 'NaOH', label: 'NaOH, 18 °C', source: 'Kohlrausch', to: 40, at: 18, name: [40.8, 11] },
  { solute: 'NH4_2SO4', label: '(NH₄)₂SO₄, 20 °C', source: 'CRC', to: 25, at: 20, name: [13, 21.5] },
  { solute: 'H3PO4', label: 'H₃PO₄, 20 °C', source: 'CRC', to: 40, at: 20, name: [40.8, 21] },
  { solute: 'Na3PO4', label: 'Na₃PO₄, 20 °C', source: 'CRC', to: 5, at: 20, name: [6, 2] },
];

/** The other electrolytes at the temperature of their source. */
export function conductivityOfOthers(): string {
  const marks = OTHERS.flatMap(({ solute, label, source, to, at, name }, i): Mark[] => {
    const line = steps(solute === 'H2SO4' ? 9 : 0, to, 80).map((percent): Point => [
      percent,
      conductivity({ solute, massFraction: percent / 100, temperatureC: at }).siemensPerM,
    ]);
    return [
      { kind: 'line', points: line, colour: series(i) },
      { kind: 'dots', points: measured(solute, source), colour: series(i) },
      { kind: 'note', at: name, words: label, colour: series(i) },
    ];
  });
  const older = measured('H2SO4', 'Kohlrausch');
  return drawChart({
    title: 'Conductivity of other bath liquids',
    subtitle:
      'Lines: conductivity(). Circles: the source of each. Squares: sulfuric acid at 18 °C, older series, from memory.',
    description:
      'One line for each of five electrolytes through the points of its source, and an older series for sulfuric acid below its line.',
    x: { label: 'mass of solute, %', domain: [0, 50] },
    y: { label: 'conductivity, S/m', domain: [0, 100] },
    marks: [...marks, { kind: 'dots', points: older, colour: INK.soft, shape: 'square' }],
    labelWidth: 90,
  });
}
