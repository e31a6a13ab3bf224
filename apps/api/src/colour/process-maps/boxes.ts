import {
  type ProcessMapBox,
  programmeSeconds,
  type RecipeRevision,
  type Step,
  type TankContents,
} from '@huelot/contracts';

type Limit = { low: number; high: number };

/**
 * The colour steps of a recipe that run in a kind of bath, each as what its limits allow. A step that names no temperature
 * is no box.
 *
 * @example
 * boxesOf(revision, 'hot-caustic') // [{ recipe, step: 'colour', temperatureC: { low: 88, high: 92 }, voltageV: { low: 2, high: 2 }, timeS: 600 }]
 */
export function boxesOf(
  { recipe, revision, steps }: RecipeRevision,
  contents: TankContents,
): ProcessMapBox[] {
  const { id, number, name } = recipe;
  return steps
    .filter(
      (step) =>
        (step.kind === 'colour' || step.kind === 'anodize' || step.kind === 'dye') &&
        step.contents === contents,
    )
    .flatMap((step) => {
      const temperatureC = limitOf(step, 'temperatureC');
      if (temperatureC === null) return [];
      const timeS = step.electrical === null ? step.durationS : programmeSeconds(step.electrical.programme);
      const box = { temperatureC, voltageV: limitOf(step, 'voltageV') ?? heldVoltage(step), timeS };
      return [{ recipe: { id, number, name, revision }, step: step.title, ...box }];
    });
}

function limitOf({ settings }: Step, quantity: 'temperatureC' | 'voltageV'): Limit | null {
  const setting = settings.find((one) => one.quantity === quantity);
  if (setting === undefined) return null;
  const { target } = setting;
  const [low, high] = [setting.low ?? target ?? setting.high, setting.high ?? target ?? setting.low];
  return low === null || high === null ? null : { low, high };
}

function heldVoltage({ electrical }: Step): Limit | null {
  const held = electrical?.mode === 'voltage' ? electrical.programme.at(-1)?.to : undefined;
  return held === undefined ? null : { low: held, high: held };
}
