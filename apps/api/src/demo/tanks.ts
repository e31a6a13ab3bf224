import { geometricVolumeL, type NewTank } from '@huelot/contracts';

/* The line of the invented shop: every figure is made up, and plausible. */

const insideWidthMm = 300;
const insideDepthMm = 850;
/** Filled to nine tenths: the length, to the next centimetre, that holds so many litres. */
function lengthFor(litres: number): number {
  const litresPerMm = geometricVolumeL({ insideLengthMm: 1, insideWidthMm, insideDepthMm });
  return Math.ceil((1.12 * litres) / litresPerMm / 10) * 10;
}

const tank = (
  code: string,
  name: string,
  options: Pick<NewTank, 'kind' | 'contents'> & {
    litres: number;
    warm?: [leastC: number, mostC: number];
    heaterKw?: number;
    coolerKw?: number;
    cover?: NewTank['cover'];
  },
): Omit<NewTank, 'lineOrder'> => ({
  code,
  name,
  kind: options.kind,
  contents: options.contents,
  insideLengthMm: lengthFor(options.litres),
  insideWidthMm,
  insideDepthMm,
  workingVolumeL: options.litres,
  heaterKw: options.heaterKw ?? 0,
  coolerKw: options.coolerKw ?? 0,
  cover: options.cover ?? 'none',
  temperatureMinC: options.warm?.[0] ?? null,
  temperatureMaxC: options.warm?.[1] ?? null,
  notes: '',
});

/** In the order of the line. */
export const tanks: NewTank[] = [
  tank('T1', 'Alkaline clean', {
    kind: 'immersion',
    contents: 'alkaline-clean',
    litres: 300,
    warm: [45, 70],
    heaterKw: 6,
  }),
  tank('T2', 'Rinse after clean', { kind: 'rinse', contents: 'water-rinse', litres: 300 }),
  tank('T3', 'Bright etch', { kind: 'immersion', contents: 'fluoride-etch', litres: 120 }),
  tank('T4', 'Valve-metal colour', {
    kind: 'electrolytic',
    contents: 'mild-salt',
    litres: 120,
    warm: [15, 30],
    coolerKw: 2,
  }),
  tank('T5', 'Final rinse', { kind: 'rinse', contents: 'water-rinse', litres: 300 }),
  tank('T6', 'Hot caustic', {
    kind: 'electrolytic',
    contents: 'hot-caustic',
    litres: 200,
    warm: [40, 95],
    heaterKw: 12,
    cover: 'floating-balls',
  }),
  tank('T7', 'Hot rinse', { kind: 'rinse', contents: 'hot-rinse', litres: 200, warm: [50, 85], heaterKw: 6 }),
  tank('T8', 'Inhibitor oil', { kind: 'immersion', contents: 'oil', litres: 200 }),
  tank('T9', 'Alkaline etch', {
    kind: 'immersion',
    contents: 'alkaline-etch',
    litres: 300,
    warm: [40, 65],
    heaterKw: 6,
  }),
  tank('T10', 'Desmut', { kind: 'immersion', contents: 'desmut', litres: 300 }),
  tank('T11', 'Sulfuric anodize', {
    kind: 'electrolytic',
    contents: 'sulfuric-anodize',
    litres: 300,
    warm: [16, 24],
    coolerKw: 14,
  }),
  tank('T12', 'Dye, red', { kind: 'immersion', contents: 'dye', litres: 300, warm: [40, 65], heaterKw: 4 }),
  tank('T13', 'Hot seal', {
    kind: 'immersion',
    contents: 'seal',
    litres: 300,
    warm: [80, 99],
    heaterKw: 12,
    cover: 'lid',
  }),
].map((facts, lineOrder) => ({ ...facts, lineOrder }));
