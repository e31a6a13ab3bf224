import { CASES, plainAndFastDifference } from './cases.ts';
import { meshesAlone } from './mesh-alone.ts';
import { measureInBrowser } from './in-browser.ts';
import { steelShops } from './steel-shops.ts';
import { simulateShops } from '../reference/optics/simulated-shops.ts';
import { secondsPerCall } from './timing.ts';

/** One figure with the aim it is held against, where there is one. */
interface Row {
  what: string;
  figure: string;
  aim: string;
  met: boolean | null;
}

const difference = plainAndFastDifference();
if (difference > 1e-6) throw new Error(`the two routes to a film colour differ by ${difference} dE00`);

const seconds = Object.fromEntries(
  Object.entries(CASES).map(([name, call]) => [name, secondsPerCall(call)]),
) as Record<keyof typeof CASES, number>;

const { closed: mesh, apart } = await meshesAlone();
if (mesh.openEdges > 0) throw new Error('the torus is not closed');

const strip = await measureInBrowser('strip-page.ts');
const map = await measureInBrowser('map-page.ts');
const steel = steelShops({ shops: 100, seed: 2026 });

const perSecond = (each: number): string => `${Math.round(1 / each).toLocaleString('en')} a second`;
const time = (each: number): string =>
  each < 1e-3
    ? `${(each * 1e6).toPrecision(3)} µs`
    : each < 1
      ? `${(each * 1e3).toPrecision(3)} ms`
      : `${each.toFixed(2)} s`;
const ratio = (slow: number, fast: number): string => `${(slow / fast).toFixed(1)} times as fast`;
const told = (what: string, figure: string): Row => ({ what, figure, aim: '', met: null });
const held = (row: Omit<Row, 'met'>, met: boolean): Row => ({ ...row, met });

const SHOPS = { shops: 500, seed: 20261130 };
const shops = simulateShops(SHOPS);
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

const rows: Row[] = [
  held(
    { what: 'film to Lab, filmModel().labAt', figure: perSecond(seconds.fastFilm), aim: '100,000 a second' },
    seconds.fastFilm < 1e-5,
  ),
  told('film to Lab, plain complex numbers', perSecond(seconds.plainFilm)),
  told('  labAt against plain', ratio(seconds.plainFilm, seconds.fastFilm)),
  told('film by name with spectrum, filmColour', perSecond(seconds.wholeFilm)),
  told('  filmColour against plain', ratio(seconds.plainFilm, seconds.wholeFilm)),
  held(
    { what: 'strip of 400 voltages', figure: time(seconds.strip), aim: 'within 16.7 ms, a frame' },
    seconds.strip < 1 / 60,
  ),
  strip === null
    ? told('strip in a browser', 'no browser found')
    : held(
        {
          what: 'strip in a browser, following a slider',
          figure: `${strip.framesPerSecond.toFixed(1)} frames a second`,
          aim: '60 frames a second',
        },
        strip.framesPerSecond > 59,
      ),
  told('  95 of 100 strips reckoned and painted within', strip === null ? '–' : time(strip.workMs / 1000)),
  map === null
    ? told('map of 60 trials in a browser', 'no browser found')
    : held(
        {
          what: 'map of 60 trials in a browser, 95 of 100 redrawn within',
          figure: time(map.workMs / 1000),
          aim: 'under 50 ms',
        },
        map.workMs < 50,
      ),
  told('deltaE2000', perSecond(seconds.deltaE)),
  told('deltaE2000, culori', perSecond(seconds.deltaECulori)),
  told('  ours against culori', ratio(seconds.deltaECulori, seconds.deltaE)),
  held({ what: 'matchColour', figure: time(seconds.match), aim: 'under 5 ms' }, seconds.match < 5e-3),
  held(
    { what: 'fitFilmGrowth, 8 coupons', figure: time(seconds.fit), aim: 'under 200 ms' },
    seconds.fit < 0.2,
  ),
  told(`${SHOPS.shops} simulated shops, seed ${SHOPS.seed}: coupons agree with one law`, percent(shops.good)),
  told('  true film within the 95 % band at the middle voltage', percent(shops.withinMiddle)),
  told('  at all of three voltages', percent(shops.within)),
  held(
    { what: '  the coupon prepared wrongly is rejected', figure: percent(shops.rejected), aim: '95 %' },
    shops.rejected >= 0.95,
  ),
  told('  another coupon is rejected', percent(shops.misjudged)),
  held(
    { what: '  voltages proposed outside the coupons', figure: String(shops.outsideCoupons), aim: 'none' },
    shops.outsideCoupons === 0,
  ),
  told(
    `  200 lots inside each of ${shops.windows} windows: out of a tolerance of dE 3`,
    percent(shops.lotsOut),
  ),
  told('samplingPlan', time(seconds.sampling)),
  told('planAddition', time(seconds.addition)),
  held(
    {
      what: `mesh of ${mesh.facets.toLocaleString('en')} facets, read and measured`,
      figure: time(mesh.totalS),
      aim: 'under 2 s',
    },
    mesh.totalS < 2,
  ),
  told('  of which reading', time(mesh.readS)),
  told('  processor time, all threads', time(mesh.cpuS)),
  held(
    { what: '  peak memory of the process', figure: `${Math.round(mesh.peakMb)} MB`, aim: 'within 300 MB' },
    mesh.peakMb <= 300,
  ),
  told('  before reading, file in memory', `${Math.round(mesh.beforeMb)} MB`),
  told('the same with no corner on another', time(apart.totalS)),
  held(
    { what: '  peak memory of the process', figure: `${Math.round(apart.peakMb)} MB`, aim: 'within 300 MB' },
    apart.peakMb <= 300,
  ),
  ...Object.entries(steel).map(([way, { right, wrong, untested }]) => {
    const figure = `${right.toFixed(1)} right, ${wrong.toFixed(1)} wrong, ${untested.toFixed(1)} untested`;
    const what = `100 steel shops, 12 strips ${way}, percent of the box`;
    return way === 'suggested'
      ? held({ what, figure, aim: '95 right, 2 wrong' }, right >= 95 && wrong <= 2)
      : told(what, figure);
  }),
];

const width = (column: 'what' | 'figure') => Math.max(...rows.map((row) => row[column].length));
console.log(`node ${process.version}, one thread; times are those of the best tenth of the batches\n`);
for (const { what, figure, aim, met } of rows) {
  const verdict = met === null ? '' : `   aim ${aim}: ${met ? 'met' : 'MISSED'}`;
  console.log(`${what.padEnd(width('what'))}  ${figure.padStart(width('figure'))}${verdict}`);
}
