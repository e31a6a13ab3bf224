import { filmColour, fitFilmGrowth, type Lab, labToSrgb, thicknessFromVoltage } from '../../src/index.ts';
import { drawChart, type Mark, type Point } from './chart.ts';
import { steps } from './steps.ts';
import { INK, series } from './svg.ts';

/** Invented coupons: a film that grows a little slower at higher voltage, read with the scatter of a hand instrument. */
const SERIES: readonly (readonly [voltageV: number, thicknessNm: number, scatter: Lab])[] = [
  [10, 26.6, { L: 0.4, a: -0.3, b: 0.5 }],
  [18, 44.4, { L: -0.5, a: 0.4, b: -0.2 }],
  [26, 61.8, { L: 0.3, a: 0.2, b: 0.6 }],
  [34, 78.6, { L: -0.2, a: -0.5, b: 0.3 }],
  [42, 95.3, { L: 0.5, a: 0.1, b: -0.6 }],
  [50, 111.2, { L: -0.4, a: 0.5, b: 0.2 }],
  [58, 126.9, { L: 0.2, a: -0.4, b: 0.4 }],
  [66, 142.2, { L: 0.1, a: 0.3, b: -0.5 }],
];

/** Thickness by reflectometry (48, 92 nm) and calculation (130 nm): Int. J. Biomater. 2015, 395657, table 1, Ti-6Al-4V. */
const PUBLISHED: readonly Point[] = [
  [20, 48],
  [40, 92],
  [60, 130],
];

/** A series of titanium coupons, each with the colour it showed, and the growth law fitted to all of them together. */
export function fittedSeries(): string {
  const coupons = SERIES.map(([voltageV, thicknessNm, scatter]) => {
    const { lab } = filmColour({ system: 'titanium', thicknessNm });
    return { voltageV, lab: { L: lab.L + scatter.L, a: lab.a + scatter.a, b: lab.b + scatter.b } };
  });
  const regime = {
    alloy: 'Ti grade 2',
    preparation: 'polished',
    bath: 'Na3PO4 50 g/L',
    temperatureC: 22,
    holdS: 30,
  };
  const { growth, coupons: fitted, residualDeltaE } = fitFilmGrowth({ coupons, system: 'titanium', regime });

  const voltages = steps(growth.lowestVoltageV, growth.highestVoltageV, 112);
  const curve = voltages.map((voltageV) => ({ voltageV, ...thicknessFromVoltage({ growth, voltageV }) }));
  const widestNm = Math.max(
    ...curve.map(({ intervalNm }) => (intervalNm ? intervalNm.high - intervalNm.low : 0)),
  );
  const marks: Mark[] = [
    {
      kind: 'cells',
      cells: curve.slice(0, -1).map(({ voltageV, thicknessNm }, i) => ({
        x: [voltageV, voltages[i + 1] ?? voltageV],
        y: [2, 12],
        fill: filmColour({ system: 'titanium', thicknessNm }).srgb.hex,
      })),
    },
    {
      kind: 'band',
      points: curve.map(({ voltageV, thicknessNm, intervalNm }) => [
        voltageV,
        intervalNm?.low ?? thicknessNm,
        intervalNm?.high ?? thicknessNm,
      ]),
      colour: series(0),
    },
    {
      kind: 'line',
      points: curve.map(({ voltageV, thicknessNm }) => [voltageV, thicknessNm]),
      colour: series(0),
    },
    {
      kind: 'dots',
      points: fitted.map(({ voltageV, ownThicknessNm }) => [voltageV, ownThicknessNm]),
      colour: INK.strong,
      fills: coupons.map(({ lab }) => labToSrgb(lab).hex),
    },
    { kind: 'dots', points: PUBLISHED, colour: series(1), shape: 'diamond' },
    { kind: 'key', row: 0, words: 'coupon, in its colour', colour: INK.strong, fill: '#d8b64a' },
    { kind: 'key', row: 1, words: 'published, Ti-6Al-4V', colour: series(1), shape: 'diamond' },
    { kind: 'note', at: [growth.highestVoltageV + 1, 5], words: 'colour on the curve' },
  ];
  return drawChart({
    title: 'A series of coupons and its growth law',
    subtitle: `fitFilmGrowth() on eight invented titanium coupons: ${residualDeltaE.toFixed(1)} dE00 remain, 95 % band ±${(widestNm / 2).toFixed(1)} nm at most.`,
    description:
      'Film thickness rises almost in proportion to voltage through eight coupons; published thicknesses of another alloy lie close.',
    x: { label: 'final voltage, V', domain: [0, 70] },
    y: { label: 'film thickness, nm', domain: [0, 160] },
    marks,
    labelWidth: 190,
  });
}
