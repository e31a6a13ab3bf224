import { readCsv } from '../../reference/csv.ts';
import { filmColour } from '../../src/index.ts';
import { scaleLinear } from 'd3-scale';
import { heading, picture } from './chart.ts';
import { element, INK, px, series, text } from './svg.ts';

interface Statement {
  words: string;
  source: string;
  modelNm: number;
  windows: { from: number; to: number }[];
  agrees: boolean;
}

/** What sources say of titanium at a voltage, beside the thicknesses whose computed hue fits the word. */
export const titaniumStatements = (): Statement[] =>
  readCsv('optics/published_colours.csv')
    .filter(({ metal = '' }) => metal.startsWith('Ti'))
    .map((row): Statement => {
      const { voltage_from: from = '', voltage_to: to = '', colour_as_published: word = '' } = row;
      const windows = (row['fitting_thickness_windows_nm'] ?? '').split(';').map((window) => {
        const [low = NaN, high = NaN] = window.split('-').map(Number);
        return { from: low, to: high };
      });
      const modelNm = Number(row['model_thickness_nm']);
      return {
        words: `${from === to ? from : `${from} to ${to}`} V: ${word}`,
        source: row['source_key'] ?? '',
        ...{ modelNm, windows },
        agrees: windows.some((window) => modelNm >= window.from && modelNm <= window.to),
      };
    });

const WIDTH = 760;
const LEFT = 232;
const RIGHT = WIDTH - 108;
const TOP = 92;
const ROW = 21;
const x = scaleLinear().domain([0, 350]).range([LEFT, RIGHT]);

/** The published tables of titanium against the model: a row each, the film that the voltage should have grown in its colour. */
export function publishedTitanium(): string {
  const rows = titaniumStatements();
  const bottom = TOP + rows.length * ROW;
  const agreeing = rows.filter(({ agrees }) => agrees).length;
  return picture({
    title: 'Published voltages of titanium against the model',
    description: `${agreeing} of ${rows.length} published colours fall where the model has them; the others are marked.`,
    width: WIDTH,
    height: bottom + 56,
    content: [
      ...heading(
        'Published voltages of titanium against the model',
        `${agreeing} of ${rows.length} agree. Bar: films whose hue fits the word. Dot: the film of that voltage, in its computed colour.`,
      ),
      ...rows.flatMap((row, index) => drawRow(row, TOP + index * ROW)),
      ...drawScale(bottom + 4),
    ],
  });
}

function drawRow({ words, source, modelNm, windows, agrees }: Statement, top: number): string[] {
  const middle = top + ROW / 2;
  const small = { 'font-size': 12, y: middle + 4 };
  const bars = windows.map(({ from, to }) =>
    element('rect', {
      ...{ x: px(x(from)), y: middle - 5, width: px(x(Math.min(to, 350)) - x(from)), height: 10 },
      ...{ fill: INK.grid },
    }),
  );
  return [
    text(words, { ...small, x: LEFT - 12, 'text-anchor': 'end', fill: INK.strong }),
    ...bars,
    element('circle', {
      ...{ cx: px(x(modelNm)), cy: middle, r: 6.5, stroke: INK.strong, 'stroke-width': 1.2 },
      fill: filmColour({ system: 'titanium', thicknessNm: modelNm }).srgb.hex,
    }),
    ...(agrees ? [] : [text('≠', { ...small, x: px(x(modelNm) + 11), fill: series(1), 'font-weight': 700 })]),
    text(source, { ...small, x: RIGHT + 10, fill: INK.soft }),
  ];
}

function drawScale(top: number): string[] {
  return [
    element('line', { x1: LEFT, x2: RIGHT, y1: top, y2: top, stroke: INK.soft }),
    ...x
      .ticks(7)
      .flatMap((value) => [
        element('line', { x1: px(x(value)), x2: px(x(value)), y1: top, y2: top + 5, stroke: INK.soft }),
        text(String(value), { x: px(x(value)), y: top + 20, 'text-anchor': 'middle', fill: INK.soft }),
      ]),
    text('film, nm', { x: RIGHT, y: top + 38, 'text-anchor': 'end', fill: INK.strong }),
  ];
}
