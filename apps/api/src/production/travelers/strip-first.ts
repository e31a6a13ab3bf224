import { electrolyticKinds, usualCautions, type BaseMetal, type TankContents } from '@huelot/contracts';
import type { RouteStep } from './queries.ts';

interface Stripping {
  instructions: string;
  /** What it usually is done in: the cautions of that liquid stand at the step. */
  liquid: TankContents;
}

/** Oxides that grow on titanium, niobium, tantalum and zirconium come off in acids with fluoride. Common practice, no source. */
const valveMetal: Stripping = {
  instructions:
    'Take the film off in the fluoride etch until the metal is even. It takes metal with it: measure the dimension afterwards.',
  liquid: 'fluoride-etch',
};
const steel: Stripping = {
  instructions:
    'Take the oxide off in inhibited acid, no longer than it needs. Hardened or spring steel takes up hydrogen: ask quality before, bake after where the drawing asks for it.',
  liquid: 'acid-etch',
};
const aluminium: Stripping = {
  instructions:
    'Take the coating off as the shop’s own instruction says. It has grown out of the metal: what comes off is lost from the dimension; measure it afterwards.',
  liquid: 'strip',
};
const others: Stripping = {
  instructions:
    'Take off what is on the surface by the way that quality has written down for this metal; measure the dimension afterwards.',
  liquid: 'strip',
};

const byMetal: Partial<Record<BaseMetal, Stripping>> = {
  ...{ titanium: valveMetal, niobium: valveMetal, tantalum: valveMetal, zirconium: valveMetal },
  ...{ steel, 'stainless-steel': steel, aluminium },
};

/** The place of the strip on a rework traveler: before the first step of its recipe, whose steps keep their numbers. */
export const STRIP_POSITION = 0;

const films: readonly string[] = [...electrolyticKinds, 'dye'];

/**
 * The route of pieces that go round again: nothing is coloured on top of a film, so the film comes off first. A recipe that strips
 * before it colours says how itself, and one that makes no film has nothing to take off.
 *
 * @example
 * stripFirst(route.steps, 'titanium') // [{ position: 0, kind: 'strip', … }, …route.steps]
 */
export function stripFirst(steps: readonly RouteStep[], baseMetal: string): RouteStep[] {
  const film = steps.findIndex(({ kind }) => films.includes(kind));
  const stripsItself = steps.slice(0, Math.max(film, 0)).some(({ kind }) => kind === 'strip');
  if (film < 0 || stripsItself) return [...steps];
  const { instructions, liquid } = byMetal[baseMetal as BaseMetal] ?? others;
  return [
    {
      ...{ position: STRIP_POSITION, kind: 'strip', title: 'Strip', instructions, contents: null },
      cautions: usualCautions({ kind: 'strip', contents: liquid, onSupply: false }),
      ...{ durationS: 0, dripS: 0, settings: [], electrical: null, record: [] },
    },
    ...steps,
  ];
}
