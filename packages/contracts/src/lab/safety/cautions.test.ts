import { expect, test } from 'vitest';
import {
  allCautions,
  cautionsOfDump,
  signOf,
  sortCautions,
  usualCautions,
  SAFETY_DISCLAIMER,
} from './cautions.ts';
import { chemicalHazardWords } from '../chemicals.ts';
import { cautionsOfMethod } from './method-cautions.ts';

const caustic = usualCautions({ kind: 'colour', contents: 'hot-caustic', onSupply: true });
const textsOf = ({ particular }: ReturnType<typeof sortCautions>) => particular.map(({ text }) => text);

test('clothing and eyewash stood before the danger of the step', () => {
  const { particular, general } = sortCautions(caustic, 'step');
  expect(particular.map(({ sign }) => sign)).toEqual([
    'no-metal',
    'splash',
    'scald',
    'electricity',
    'flammable-gas',
  ]);
  expect(general.some((text) => text.includes('eyewash'))).toBe(true);
  expect(general.at(-1)).toBe(SAFETY_DISCLAIMER);
});

test('whoever weighed flake was told how to lower a rack', () => {
  const weighing = textsOf(sortCautions(caustic, 'addition'));
  expect(weighing.some((text) => text.startsWith('Lower and lift slowly'))).toBe(false);
  expect(weighing.some((text) => text.startsWith('Caustic goes slowly into water'))).toBe(true);
  const dipping = textsOf(sortCautions(caustic, 'step'));
  expect(dipping.some((text) => text.startsWith('Caustic goes slowly into water'))).toBe(false);
});

test('words the shop wrote itself are never folded away, and nothing is lost or told twice', () => {
  const own = 'The drain of this tank is slow: close it by hand.';
  const { particular, general } = sortCautions([...caustic, own, own], 'dump');
  expect(particular).toContainEqual({ text: own, sign: null });
  const shown = [...particular.map(({ text }) => text), ...general];
  expect(shown.sort()).toEqual([...new Set([...caustic, own])].sort());
});

test('fluoride is particular in whatever is done at it', () => {
  const fluoride = usualCautions({ kind: 'etch', contents: 'fluoride-etch', onSupply: false });
  for (const act of ['step', 'addition', 'make-up', 'dump'] as const)
    expect(sortCautions(fluoride, act).particular[0]?.sign).toBe('poison');
});

test('no caution is written twice in other words of sorting', () => {
  const texts = allCautions.map(({ text }) => text);
  expect(new Set(texts).size).toBe(texts.length);
});

test('a step at an acid without current showed nothing unfolded', () => {
  const acid = usualCautions({ kind: 'etch', contents: 'acid-etch', onSupply: false });
  expect(sortCautions(acid, 'step').particular.map(({ sign }) => sign)).toEqual(['face-shield']);
});

test('whoever dumped a bath read the cautions of weighing and dipping, and none of dumping', () => {
  const { particular } = sortCautions(cautionsOfDump('hot-caustic'), 'dump');
  const texts = particular.map(({ text }) => text);
  expect(texts[0]).toMatch(/^Heater and supply off.*cooled/);
  expect(texts[1]).toMatch(/Never neutralise strong caustic with strong acid/);
  expect(texts.some((text) => text.startsWith('Never let the level fall below the heater'))).toBe(true);
  expect(texts.some((text) => text.startsWith('Caustic goes slowly into water'))).toBe(false);
  expect(particular.every(({ sign }) => sign !== null)).toBe(true);
});

test.each([
  ['sulfuric-anodize', /^Only into the acid drain/],
  ['fluoride-etch', /^Only into the container for fluoride/],
  ['alkaline-clean', /^Only into the alkaline drain/],
] as const)('nobody was told where %s may not go', (contents, drain) => {
  const texts = sortCautions(cautionsOfDump(contents), 'dump').particular.map(({ text }) => text);
  expect(texts[1]).toMatch(drain);
});

test('acid and alkali side by side were named nowhere', () => {
  for (const contents of ['sulfuric-anodize', 'hot-caustic', 'desmut', 'alkaline-clean'] as const)
    expect(usualCautions({ kind: 'rinse', contents, onSupply: false }).join()).toContain(
      'Acid and alkali meet nowhere',
    );
});

test('the lists of the lab had no pictures: fluoride, barium and what is poisonous have one', () => {
  const none = { aluminium: null, procedure: null };
  const fluoride = cautionsOfMethod({
    kind: 'sulfuric-free-acid',
    settings: { ...none, aluminium: 'masked' },
  });
  const barium = cautionsOfMethod({ kind: 'caustic-barium-chloride', settings: none });
  expect([fluoride[0], barium[0], chemicalHazardWords.toxic].map((text) => signOf(text ?? ''))).toEqual([
    'poison',
    'poison',
    'poison',
  ]);
  expect(signOf('The drain of this tank is slow.')).toBeNull();
});
