import {
  type BoxShare,
  boxShare,
  type MapSetting,
  type MapTrial,
  type SettingBox,
  type TrialOutcome,
} from '@huelot/calc';
import type { ProcessMap, ProcessMapBox } from '@huelot/contracts';
import { boxOf, frameOf, type MapAxis } from './map-axes.ts';

/** A box of settings on a map, with how much of it gives what is wanted. */
export interface MapBox {
  /** As it stands in a sentence. */
  name: string;
  box: SettingBox;
  share: BoxShare;
  /** Null of the map's own frame. */
  recipe: ProcessMapBox | null;
}

interface Ground {
  ground: ProcessMap;
  trials: readonly MapTrial[];
  target: number;
  axes: readonly MapAxis[];
}

/** The frame of a map and the recipes on it, each with the share that its trials tell. */
export function boxesOn(
  { ground, trials, target, axes }: Ground,
  {
    frame,
    setting,
    wanted,
  }: { frame: readonly [MapAxis, MapAxis]; setting: MapSetting; wanted: TrialOutcome },
): MapBox[] {
  const shared = (box: SettingBox) => boxShare({ trials, target, box, wanted });
  const whole = frameOf(setting, frame);
  return [
    { name: 'the whole map', box: whole, share: shared(whole), recipe: null },
    ...ground.boxes.map((recipe) => {
      const box = boxOf(recipe, axes);
      return { name: `the limits of ${recipe.recipe.number}`, box, share: shared(box), recipe };
    }),
  ];
}

/** Where the recipes among boxes lie on two axes. */
export function outlinesOf(
  boxes: readonly MapBox[],
  { x, y, chosen }: { x: MapAxis; y: MapAxis; chosen: number },
) {
  const ends = (box: SettingBox, { factor }: MapAxis): [number, number] => {
    const limit = box[factor];
    return typeof limit === 'object' ? [limit.low, limit.high] : [limit ?? 0, limit ?? 0];
  };
  return boxes.flatMap(({ name, box, recipe }, index) =>
    recipe === null ? [] : [{ label: name, x: ends(box, x), y: ends(box, y), isChosen: index === chosen }],
  );
}
