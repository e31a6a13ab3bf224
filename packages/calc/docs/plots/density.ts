import { density, type Solute } from '../../src/index.ts';
import { readCsv } from '../../reference/csv.ts';
import { drawChart, type Mark, type Point } from './chart.ts';
import { steps } from './steps.ts';
import { series } from './svg.ts';

const published = readCsv('bath/density.csv');

const tabulated = (solute: Solute, source: string) =>
  published
    .filter((row) => row['solute'] === solute && row['source'] === source)
    .map((row) => ({
      percent: Number(row['wt_pct']),
      temperatureC: Number(row['temp_C']),
      kgPerM3: Number(row['density_kg_m3']),
    }));

const computed = (solute: Solute, percent: number, temperatureC: number): number =>
  density({ solute, massFraction: percent / 100, temperatureC }).kgPerM3;

interface Line {
  solute: Solute;
  label: string;
  maxPercent: number;
  /** Where its name stands clear of the other lines. */
  name: Point;
}

const ALKALIS: readonly Line[] = [
  { solute: 'KOH', label: 'KOH', maxPercent: 50, name: [50.8, 1500] },
  { solute: 'NaOH', label: 'NaOH', maxPercent: 50, name: [50.8, 1526] },
  { solute: 'K2CO3', label: 'K₂CO₃', maxPercent: 50, name: [50.8, 1556] },
  { solute: 'Na2CO3', label: 'Na₂CO₃', maxPercent: 20, name: [13.5, 1218] },
];

const ACIDS: readonly Line[] = [
  { solute: 'H2SO4', label: 'H₂SO₄', maxPercent: 60, name: [60.8, 1496] },
  { solute: 'H3PO4', label: 'H₃PO₄', maxPercent: 40, name: [40.8, 1252] },
  { solute: 'NH4_2SO4', label: '(NH₄)₂SO₄', maxPercent: 40, name: [40.8, 1224] },
  { solute: 'Na3PO4', label: 'Na₃PO₄', maxPercent: 8, name: [3, 1112] },
];

function densityAt20(lines: readonly Line[], title: string): string {
  const longest = Math.max(...lines.map(({ maxPercent }) => maxPercent));
  const marks = lines.flatMap(({ solute, label, maxPercent, name }, i): Mark[] => [
    {
      kind: 'line',
      points: steps(0, maxPercent, 60).map((percent) => [percent, computed(solute, percent, 20)]),
      colour: series(i),
    },
    {
      kind: 'dots',
      points: tabulated(solute, 'CRC102')
        .filter(({ percent }) => percent <= maxPercent && percent % 4 === 0)
        .map(({ percent, kgPerM3 }) => [percent, kgPerM3]),
      colour: series(i),
    },
    { kind: 'note', at: name, words: label, colour: series(i) },
  ]);
  return drawChart({
    title,
    subtitle: 'Lines: density(). Circles: CRC Handbook of Chemistry and Physics, edition 102.',
    description: `Density rises with strength for ${lines.map(({ label }) => label).join(', ')}; the lines pass near the handbook points.`,
    x: { label: 'mass of solute, %', domain: [0, longest] },
    y: { label: 'density, kg/m³', domain: [980, 1580] },
    marks,
    labelWidth: 90,
  });
}

export const densityOfAlkalis = (): string =>
  densityAt20(ALKALIS, 'Density of caustic and carbonate at 20 °C');

export const densityOfAcids = (): string => densityAt20(ACIDS, 'Density of acids and salts at 20 °C');

/** Sodium hydroxide hot and strong, where the general model fails and the published table takes over. */
export function densityOfHotCaustic(): string {
  const marks = [20, 40, 60, 80, 100].flatMap((temperatureC, i): Mark[] => [
    {
      kind: 'line',
      points: steps(0, 50, 60).map((percent) => [percent, computed('NaOH', percent, temperatureC)]),
      colour: series(i),
      label: `${temperatureC} °C`,
    },
    {
      kind: 'dots',
      points: tabulated('NaOH', 'NAOHTAB')
        .filter((row) => row.temperatureC === temperatureC)
        .map(({ percent, kgPerM3 }) => [percent, kgPerM3]),
      colour: series(i),
    },
  ]);
  return drawChart({
    title: 'Density of sodium hydroxide, cold and hot',
    subtitle: 'Lines: density(). Circles: published table, 24 to 50 %, 20 to 100 °C.',
    description: 'Five lines, one a temperature, pass through the points of the table.',
    x: { label: 'mass of NaOH, %', domain: [0, 50] },
    y: { label: 'density, kg/m³', domain: [940, 1560] },
    marks,
    labelWidth: 90,
  });
}

const DEVIATIONS: readonly { solute: Solute; source: string; label: string; shape?: 'square' | 'diamond' }[] =
  [
    { solute: 'KOH', source: 'CRC102', label: 'KOH, handbook' },
    { solute: 'KOH', source: 'PKTAB18', label: 'KOH, 18 °C table', shape: 'square' },
    { solute: 'NaOH', source: 'NAOHTAB', label: 'NaOH, hot table', shape: 'diamond' },
    { solute: 'H2SO4', source: 'CRC102', label: 'H₂SO₄, handbook' },
    { solute: 'K2CO3', source: 'CRC102', label: 'K₂CO₃, handbook' },
    { solute: 'NH4_2SO4', source: 'CRC102', label: '(NH₄)₂SO₄, handbook' },
  ];

/** How far density() reads from each table, which is also how far the tables are from each other. */
export function densityDeviation(): string {
  const marks = DEVIATIONS.flatMap(({ solute, source, label, shape }, i): Mark[] => {
    const points = tabulated(solute, source)
      .filter(({ percent }) => percent >= 0.5 && percent <= 52)
      .map(({ percent, temperatureC, kgPerM3 }): Point => [
        percent,
        100 * (computed(solute, percent, temperatureC) / kgPerM3 - 1),
      ]);
    const dots = { kind: 'dots' as const, points, colour: series(i), ...(shape ? { shape } : {}) };
    return [dots, { kind: 'key', row: i, words: label, colour: series(i), ...(shape ? { shape } : {}) }];
  });
  return drawChart({
    title: 'How far the tables disagree',
    subtitle: 'density() against every published point to 52 %. The coefficients of K₂CO₃ end at 36 %.',
    description:
      'Most points lie within 0.2 per cent; potassium hydroxide reaches 0.66 per cent at 50 per cent strength.',
    x: { label: 'mass of solute, %', domain: [0, 52] },
    y: { label: 'deviation, %', domain: [-0.6, 1.2] },
    marks,
    labelWidth: 190,
  });
}
