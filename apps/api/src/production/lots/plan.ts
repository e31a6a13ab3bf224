import { CalcError, piecesPerLoad, racksByLoads, type LoadJob, type RackChoice } from '@huelot/calc';
import {
  contentsNames,
  metalStopText,
  partStops,
  rackStops,
  supplyFaults,
  tankFitFault,
  tankFitStops,
  usableSupplies,
  type LoadPlan,
} from '@huelot/contracts';
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
export function planLine(facts: LineFacts, choice: Choice): Omit<LoadPlan, 'evidence'> {
  const electrical = facts.steps.filter((step) => step.electrical !== null);
  const supplies = usableSupplies(suppliesOf(facts), facts.steps);
  const wantedSupply = choice.supplyId ?? facts.supplyId;
  const supply = supplies.find(({ id }) => id === wantedSupply) ?? supplies[0] ?? null;
  const toRelease = Math.max(
    0,
    Math.min(facts.quantity, facts.receivedCount ?? facts.quantity) - facts.inLots,
  );
  const quantity = Math.max(1, toRelease);
  const racks = rackChoices(facts, { supply, electrical, quantity });
  const wantedRack = choice.rackId ?? facts.rackId;
  const rack = (racks.find(({ rack: { id } }) => id === wantedRack) ?? racks[0])?.rack ?? null;
  const steps = facts.steps.map((step) => ({
    position: step.position,
    kind: step.kind,
    title: step.title,
    contents: step.contents,
    tanks: tanksFor(facts.tanks, { step, supply, rack }),
  }));
  const obstacles = [
    ...lineObstacles(facts, toRelease),
    ...partStops(facts.baseMetal, facts.steps).map((stop) =>
      metalStopText({ subject: 'The part', baseMetal: facts.baseMetal, stop }),
    ),
    ...steps
      .filter(({ contents, tanks }) => needsTank(contents) && tanks.length === 0)
      .map(
        ({ position, contents }) =>
          `Step ${position} needs ${contents === null ? 'a tank' : contentsNames[contents]}; no tank that this rack and supply can use holds it.`,
      ),
    ...(electrical.length > 0 && supply === null ? supplyObstacles(facts) : []),
    ...(rack === null ? ['No rack is of a metal and a size that may go through this route.'] : []),
  ];
  const loads = loadsOn(facts, { rack, supply, electrical, quantity });
  return {
    toRelease,
    limits: loads.limits,
    binding: loads.binding,
    piecesPerLoad: loads.piecesPerLoad,
    loads: toRelease === 0 ? [] : loads.balanced,
    steps,
    racks: racks.map(({ rack: { id, code, name }, loads, why }) => ({ id, code, name, loads, why })),
    supplies: supplies.map(({ id, code, name, maxVoltageV, maxCurrentA }) => ({
      ...{ id, code, name, maxVoltageV, maxCurrentA },
    })),
    rackId: rack?.id ?? null,
    supplyId: supply?.id ?? null,
    obstacles: loads.obstacle === null ? obstacles : [...obstacles, loads.obstacle],
    warnings: warningsOf(facts),
  };
}

/** Why a rack must not or cannot go through the route of a line, one sentence a step. */
export const rackStopTexts = (facts: LineFacts, rack: RackFacts): string[] => [
  ...rackStops({ rackMetal: rack.baseMetal, partMetal: facts.baseMetal, steps: facts.steps }).map((stop) =>
    metalStopText({ subject: `Rack ${rack.code}`, baseMetal: rack.baseMetal, stop }),
  ),
  ...tankFitStops({ rack, tanks: facts.tanks, steps: facts.steps }).map(
    ({ position, why }) => `Rack ${rack.code} does not fit step ${position}: ${why}.`,
  ),
];

export const needsTank = (contents: string | null): boolean => contents !== null && contents !== 'air';

function lineObstacles(facts: LineFacts, toRelease: number): string[] {
  return [
    ...(facts.orderStatus === 'cancelled' || facts.cancelled ? ['The order line is cancelled.'] : []),
    ...(facts.recipeStatus === 'approved'
      ? []
      : [`The recipe revision is ${facts.recipeStatus}: change the line to the approved one.`]),
    ...(facts.receivedCount === null ? ['The receipt of the pieces is not recorded yet.'] : []),
    ...(toRelease > 0
      ? []
      : [
          facts.inLots < facts.quantity
            ? `Every piece received is in a lot already; ${facts.quantity - facts.inLots} are still to come.`
            : 'Every piece of this line is in a lot already.',
        ]),
  ];
}

/** Supplies with what the tanks they are connected to hold. */
const suppliesOf = ({ supplies, tanks }: LineFacts) =>
  supplies.map((supply) => ({
    ...supply,
    contents: tanks.filter(({ supplyIds }) => supplyIds.includes(supply.id)).map(({ contents }) => contents),
  }));

const supplyObstacles = (facts: LineFacts): string[] => [
  'No power supply can run this route.',
  ...suppliesOf(facts).flatMap((supply) =>
    supplyFaults(supply, facts.steps)
      .slice(0, 1)
      .map((fault) => `${supply.code} ${fault}.`),
  ),
];

/** Tanks that hold what a step needs, those without concerns first. */
function tanksFor(
  tanks: TankFacts[],
  { step, supply, rack }: { step: RouteStepFacts; supply: SupplyFacts | null; rack: RackFacts | null },
) {
  if (!needsTank(step.contents)) return [];
  return tanks
    .filter(({ contents }) => contents === step.contents)
    .filter((tank) => rack === null || tankFitFault(rack, tank) === null)
    .filter(({ supplyIds }) => step.electrical === null || supply === null || supplyIds.includes(supply.id))
    .map((tank) => ({
      ...{ id: tank.id, code: tank.code, name: tank.name, concerns: concernsOf(tank, step) },
      stopped: tank.bathIsStopped === true,
    }))
    .sort((one, other) => one.concerns.length - other.concerns.length);
}

function concernsOf(tank: TankFacts, step: RouteStepFacts): string[] {
  const temperature = step.settings.find(({ quantity }) => quantity === 'temperatureC')?.target ?? null;
  return [
    ...(tank.hasBath ? [] : ['has no bath in it']),
    ...(tank.bathDoubt === undefined ? [] : [tank.bathDoubt]),
    ...(temperature !== null && tank.temperatureMaxC !== null && temperature > tank.temperatureMaxC
      ? [`reaches ${tank.temperatureMaxC} °C, the step needs ${temperature} °C`]
      : []),
    ...(temperature !== null && tank.temperatureMinC !== null && temperature < tank.temperatureMinC
      ? [`goes down to ${tank.temperatureMinC} °C, the step needs ${temperature} °C`]
      : []),
  ];
}

/** What decides how many pieces go into a load, but for the rack. */
function loadJob(
  facts: LineFacts & { massKg: number },
  on: { supply: SupplyFacts | null; electrical: RouteStepFacts[]; quantity: number },
): Omit<LoadJob, 'rack'> {
  const peak = on.electrical
    .flatMap(({ electrical }) => (electrical === null ? [] : [electrical]))
    .sort((one, other) => other.peakCurrentDensityAPerM2 - one.peakCurrentDensityAPerM2)[0];
  return {
    quantity: on.quantity,
    part: {
      areaMm2: facts.areaMm2,
      electricalAreaMm2: facts.electricalAreaMm2,
      massKg: facts.massKg,
      widthMm: facts.widthMm,
      heightMm: facts.heightMm,
    },
    limits: { maxCurrentA: on.supply?.maxCurrentA ?? null },
    process: {
      peakAPerM2: peak?.peakCurrentDensityAPerM2 ?? 0,
      averageVoltageV: peak?.averageVoltageV ?? 0,
    },
  };
}

/** Racks of a metal and a size for the route, the one with the fewest loads first. */
function rackChoices(
  facts: LineFacts,
  on: { supply: SupplyFacts | null; electrical: RouteStepFacts[]; quantity: number },
): RackChoice<RackFacts>[] {
  const racks = facts.racks.filter((candidate) => rackStopTexts(facts, candidate).length === 0);
  const { massKg } = facts;
  return massKg === null
    ? racks.map((rack) => ({ rack, loads: null, priceTotal: null, why: '' }))
    : racksByLoads({ racks, job: loadJob({ ...facts, massKg }, on) });
}

function loadsOn(
  facts: LineFacts,
  on: { rack: RackFacts | null; supply: SupplyFacts | null; electrical: RouteStepFacts[]; quantity: number },
) {
  const nothing = { limits: [], binding: [], piecesPerLoad: 0, balanced: [] };
  if (on.rack === null) return { ...nothing, obstacle: null };
  const { massKg } = facts;
  if (massKg === null)
    return { ...nothing, obstacle: 'The part has no mass yet: the weight of a load cannot be checked.' };
  try {
    const plan = piecesPerLoad({ ...loadJob({ ...facts, massKg }, on), rack: on.rack });
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
    return { ...nothing, obstacle: `Not one piece fits a load. ${error.sentence}` };
  }
}

function warningsOf(facts: LineFacts): string[] {
  const agreedRack = facts.racks.find(({ id }) => id === facts.rackId);
  const toCome = facts.quantity - (facts.receivedCount ?? facts.quantity);
  return [
    ...(agreedRack === undefined ? [] : rackStopTexts(facts, agreedRack)),
    ...(facts.widthMm === null || facts.heightMm === null
      ? ['The part has no width and height: the rack window does not limit these loads.']
      : []),
    ...(toCome > 0
      ? [`${facts.receivedCount} of ${facts.quantity} pieces came in; ${toCome} are still to come.`]
      : []),
  ];
}
