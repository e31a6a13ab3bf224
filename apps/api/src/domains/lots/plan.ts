import { CalcError, piecesPerLoad } from '@huelot/calc';
import { contentsNames, refusalFor, type LoadPlan } from '@huelot/contracts';
import type { LineFacts, RackFacts, RouteStepFacts, SupplyFacts, TankFacts } from './plan-queries.ts';

interface Choice {
  rackId?: number | null | undefined;
  supplyId?: number | null | undefined;
}

/**
 * How a line splits into loads on a rack and a supply, which tanks its steps can use, and what stands in the way.
 * Release checks against the same plan, so what the planner saw is what is refused or done.
 *
 * @example
 * const plan = planLine(facts, { rackId: 3, supplyId: 1 });
 */
export function planLine(facts: LineFacts, choice: Choice): LoadPlan {
  const electrical = facts.steps.filter((step) => step.electrical !== null);
  const supplies = electrical.length === 0 ? [] : suppliesFor(facts, electrical);
  const wantedSupply = choice.supplyId ?? facts.supplyId;
  const supply = supplies.find(({ id }) => id === wantedSupply) ?? supplies[0] ?? null;
  const racks = facts.racks.filter((rack) => metalObstacles(facts.steps, rack.baseMetal, '').length === 0);
  const wantedRack = choice.rackId ?? facts.rackId;
  const rack = racks.find(({ id }) => id === wantedRack) ?? racks[0] ?? null;
  const toRelease = Math.max(0, facts.quantity - facts.inLots);
  const steps = facts.steps.map((step) => ({
    position: step.position,
    kind: step.kind,
    title: step.title,
    contents: step.contents,
    tanks: tanksFor(facts.tanks, step, supply),
  }));
  const obstacles = [
    ...lineObstacles(facts, toRelease),
    ...metalObstacles(facts.steps, facts.baseMetal, 'The part'),
    ...steps
      .filter(({ contents, tanks }) => needsTank(contents) && tanks.length === 0)
      .map(
        ({ position, contents }) =>
          `Step ${position} needs ${contents === null ? 'a tank' : contentsNames[contents]}; no tank holds it.`,
      ),
    ...(electrical.length > 0 && supply === null
      ? ['No power supply is connected to a tank that the colour step can use.']
      : []),
    ...(supply === null ? [] : voltageObstacles(electrical, supply)),
    ...(rack === null ? ['No rack is made of a metal that may go through this route.'] : []),
  ];
  const loads = loadsOn(facts, { rack, supply, electrical, quantity: Math.max(1, toRelease) });
  return {
    toRelease,
    limits: loads.limits,
    binding: loads.binding,
    piecesPerLoad: loads.piecesPerLoad,
    loads: toRelease === 0 ? [] : loads.balanced,
    steps,
    racks: racks.map(({ id, code, name }) => ({ id, code, name })),
    supplies,
    rackId: rack?.id ?? null,
    supplyId: supply?.id ?? null,
    obstacles: loads.obstacle === null ? obstacles : [...obstacles, loads.obstacle],
    warnings: warningsOf(facts, toRelease),
  };
}

export const needsTank = (contents: string | null): boolean => contents !== null && contents !== 'air';

function lineObstacles(facts: LineFacts, toRelease: number): string[] {
  return [
    ...(facts.orderStatus === 'cancelled' || facts.cancelled ? ['The order line is cancelled.'] : []),
    ...(facts.recipeStatus === 'approved'
      ? []
      : [`The recipe revision is ${facts.recipeStatus}: change the line to the approved one.`]),
    ...(facts.receivedCount === null ? ['The pieces are not booked as received yet.'] : []),
    ...(toRelease === 0 ? ['Every piece of this line is in a lot already.'] : []),
  ];
}

function metalObstacles(steps: RouteStepFacts[], baseMetal: LineFacts['baseMetal'], what: string): string[] {
  return steps.flatMap(({ position, contents }) => {
    const refusal = contents === null ? null : refusalFor({ baseMetal, contents });
    return refusal === null
      ? []
      : [`${what} is ${baseMetal} and must not go into step ${position}: ${refusal.why}.`];
  });
}

const voltageObstacles = (steps: RouteStepFacts[], supply: SupplyFacts): string[] =>
  steps.flatMap(({ position, electrical }) => {
    const highest =
      electrical?.mode === 'voltage' ? Math.max(...electrical.programme.map(({ to }) => to)) : 0;
    return highest > supply.maxVoltageV
      ? [`Step ${position} needs ${highest} V; ${supply.code} gives at most ${supply.maxVoltageV} V.`]
      : [];
  });

/** Supplies connected to a tank that some electrolytic step can use, the strongest first. */
function suppliesFor(facts: LineFacts, steps: RouteStepFacts[]) {
  const wired = new Set(
    steps.flatMap((step) =>
      facts.tanks.filter((tank) => tank.contents === step.contents).flatMap((tank) => tank.supplyIds),
    ),
  );
  return facts.supplies
    .filter(({ id }) => wired.has(id))
    .sort((one, other) => other.maxCurrentA - one.maxCurrentA)
    .map(({ id, code, name, maxVoltageV, maxCurrentA }) => ({ id, code, name, maxVoltageV, maxCurrentA }));
}

/** Tanks that hold what a step needs, those without concerns first. */
function tanksFor(tanks: TankFacts[], step: RouteStepFacts, supply: SupplyFacts | null) {
  if (!needsTank(step.contents)) return [];
  return tanks
    .filter(({ contents }) => contents === step.contents)
    .filter(({ supplyIds }) => step.electrical === null || supply === null || supplyIds.includes(supply.id))
    .map((tank) => ({ id: tank.id, code: tank.code, name: tank.name, concerns: concernsOf(tank, step) }))
    .sort((one, other) => one.concerns.length - other.concerns.length);
}

function concernsOf(tank: TankFacts, step: RouteStepFacts): string[] {
  const temperature = step.settings.find(({ quantity }) => quantity === 'temperatureC')?.target ?? null;
  return [
    ...(tank.hasBath ? [] : ['has no bath in it']),
    ...(temperature !== null && tank.temperatureMaxC !== null && temperature > tank.temperatureMaxC
      ? [`reaches ${tank.temperatureMaxC} °C, the step wants ${temperature} °C`]
      : []),
    ...(temperature !== null && tank.temperatureMinC !== null && temperature < tank.temperatureMinC
      ? [`goes down to ${tank.temperatureMinC} °C, the step wants ${temperature} °C`]
      : []),
  ];
}

function loadsOn(
  facts: LineFacts,
  on: { rack: RackFacts | null; supply: SupplyFacts | null; electrical: RouteStepFacts[]; quantity: number },
) {
  const nothing = { limits: [], binding: [], piecesPerLoad: 0, balanced: [] };
  if (on.rack === null) return { ...nothing, obstacle: null };
  if (facts.massKg === null)
    return { ...nothing, obstacle: 'The part has no mass yet: the weight of a load cannot be checked.' };
  const peak = on.electrical
    .flatMap(({ electrical }) => (electrical === null ? [] : [electrical]))
    .sort((one, other) => other.peakCurrentDensityAPerM2 - one.peakCurrentDensityAPerM2)[0];
  try {
    const plan = piecesPerLoad({
      quantity: on.quantity,
      part: {
        areaMm2: facts.areaMm2,
        electricalAreaMm2: facts.electricalAreaMm2,
        massKg: facts.massKg,
        widthMm: facts.widthMm,
        heightMm: facts.heightMm,
      },
      rack: on.rack,
      limits: { maxCurrentA: on.supply?.maxCurrentA ?? null },
      process: {
        peakAPerM2: peak?.peakCurrentDensityAPerM2 ?? 0,
        averageVoltageV: peak?.averageVoltageV ?? 0,
      },
    });
    const limits = plan.limits.map(({ key, label, pieces, formula }) => ({
      limit: key,
      label,
      pieces,
      formula,
    }));
    return {
      limits,
      binding: plan.binding,
      piecesPerLoad: plan.piecesPerLoad,
      balanced: plan.balanced,
      obstacle: null,
    };
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    return { ...nothing, obstacle: `Not one piece fits a load: ${error.message}.` };
  }
}

function warningsOf(facts: LineFacts, toRelease: number): string[] {
  const there = (facts.receivedCount ?? 0) - facts.inLots;
  return facts.receivedCount !== null && there < toRelease
    ? [
        `${facts.receivedCount} pieces came in; only ${Math.max(0, there)} of the ${toRelease} left to release are here.`,
      ]
    : [];
}
