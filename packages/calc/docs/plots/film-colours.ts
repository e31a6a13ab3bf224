import { filmColour, type SystemName } from '../../src/index.ts';
import { scaleLinear } from 'd3-scale';
import { heading, picture } from './chart.ts';
import { element, INK, px, text } from './svg.ts';

interface Strip {
  system: SystemName;
  label: string;
  constants: string;
  /** Thickness with the colour word a source reports for it. */
  reportedBy?: string;
  reported?: readonly (readonly [thicknessNm: number, word: string])[];
}

const STRIPS: readonly Strip[] = [
  {
    system: 'titanium',
    label: 'Titanium',
    constants: 'TiO2_Franta2015 on Ti_Johnson1974',
    reportedBy: '▲ reported: Vera et al. 2015, Ti-6Al-4V',
    reported: [
      [48, 'blue'],
      [92, 'green'],
      [130, 'pink and yellow'],
    ],
  },
  { system: 'niobium', label: 'Niobium', constants: 'Nb2O5_Lemarchand2013 on Nb_Weaver1973' },
  { system: 'tantalum', label: 'Tantalum', constants: 'Ta2O5_Gao2012 on Ta_Weaver1974' },
  { system: 'zirconium', label: 'Zirconium', constants: 'ZrO2_Synowicki2004 on Zr_Querry1987' },
  {
    system: 'steel',
    label: 'Steel',
    constants: 'Fe3O4_Querry1985 on Fe_Johnson1974: a picture of the sequence only',
  },
  { system: 'aluminium', label: 'Aluminium', constants: 'Al2O3_Franta2015 on Al_Rakic1995' },
];

const WIDTH = 760;
const LEFT = 24;
const RIGHT = WIDTH - 24;
const TO_NM = 400;
const STEP_NM = 2;
const ROW = 92;
const TOP = 84;
const BAR = 40;

const x = scaleLinear().domain([0, TO_NM]).range([LEFT, RIGHT]);

/** One strip a metal: the computed colour at every thickness, underlined where a screen cannot show it truly. */
export function filmColourStrips(): string {
  const height = TOP + STRIPS.length * ROW + 40;
  return picture({
    title: 'Film colour against thickness',
    description: 'A strip of computed colours from 0 to 400 nm of oxide for each of six metals.',
    width: WIDTH,
    height,
    content: [
      ...heading(
        'Film colour against thickness',
        'filmColour() for D65 and the 2° observer. Underlined: outside sRGB, shown clipped.',
      ),
      ...STRIPS.flatMap((strip, row) => drawStrip(strip, TOP + row * ROW)),
      ...drawScale(TOP + STRIPS.length * ROW - 12),
    ],
  });
}

function drawStrip(strip: Strip, top: number): string[] {
  const bar = top + 10;
  return [
    text(strip.label, { x: LEFT, y: top + 2, 'font-weight': 600, fill: INK.strong }),
    small(strip.constants, { x: RIGHT, y: top + 2, 'text-anchor': 'end', fill: INK.soft }),
    ...drawColours(strip.system, bar),
    ...drawReports(strip, bar + BAR + 15),
  ];
}

function drawColours(system: SystemName, top: number): string[] {
  const width = px(x(STEP_NM) - x(0));
  const colours = Array.from({ length: TO_NM / STEP_NM }, (_, i) => {
    const { srgb, inGamut } = filmColour({ system, thicknessNm: (i + 0.5) * STEP_NM });
    return { left: px(x(i * STEP_NM)), fill: srgb.hex, inGamut };
  });
  const cells = colours.map(({ left, fill }) =>
    element('rect', { x: left, y: top, width, height: BAR, fill }),
  );
  const underlines = colours
    .filter(({ inGamut }) => !inGamut)
    .map(({ left }) => element('rect', { x: left, y: top + BAR + 2, width, height: 2.5, fill: INK.strong }));
  return [element('g', { 'shape-rendering': 'crispEdges' }, [...cells, ...underlines])];
}

function drawReports({ reported, reportedBy }: Strip, base: number): string[] {
  if (!reported || !reportedBy) return [];
  const words = reported.flatMap(([thicknessNm, word]) => {
    const at = px(x(thicknessNm));
    return [
      element('path', { d: `M${at} ${base - 8}l4 7h-8z`, fill: INK.strong }),
      small(word, { x: px(at + 8), y: base, fill: INK.strong }),
    ];
  });
  return [...words, small(reportedBy, { x: RIGHT, y: base, 'text-anchor': 'end', fill: INK.soft })];
}

const small = (words: string, attributes: Record<string, string | number>): string =>
  text(words, { 'font-size': 12, ...attributes });

function drawScale(top: number): string[] {
  return [
    element('line', { x1: LEFT, x2: RIGHT, y1: top, y2: top, stroke: INK.soft }),
    ...x
      .ticks(8)
      .flatMap((value) => [
        element('line', { x1: px(x(value)), x2: px(x(value)), y1: top, y2: top + 5, stroke: INK.soft }),
        text(String(value), { x: px(x(value)), y: top + 20, 'text-anchor': 'middle', fill: INK.soft }),
      ]),
    text('oxide thickness, nm', {
      x: px((LEFT + RIGHT) / 2),
      y: top + 38,
      'text-anchor': 'middle',
      fill: INK.strong,
    }),
  ];
}
