import type { TravelerHead } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import type { Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { loadOf } from './load.ts';
import * as queries from './queries.ts';
import { stripFirst } from './strip-first.ts';

interface Issue {
  actor: Actor;
  lotId: number;
  kind: 'first' | 'rework';
  /** Pieces that go round. */
  quantity: number;
  changeNote: string;
  /** The traveler that a rework continues. */
  reworkOfId?: number;
  /** The traveler that this one takes the place of. */
  supersedes?: { id: number; number: string; revision: number };
}

/**
 * Issues a traveler: copies the route, the limits and everything at its head out of the living records, so that
 * what the floor reads is what was meant when it was issued. Returns its id.
 *
 * @example
 * await issueTraveler(tx, { actor, lotId, kind: 'first', quantity: 48, changeNote: '' });
 */
export async function issueTraveler(tx: Tx, options: Issue): Promise<number> {
  const { actor, supersedes } = options;
  const lot = orNotFound(await queries.readLotFacts(tx.execute, options.lotId), `lot ${options.lotId}`);
  const route = orNotFound(
    await queries.readRoute(tx.execute, lot.recipeRevisionId),
    `recipe revision ${lot.recipeRevisionId}`,
  );
  const steps =
    options.kind === 'rework' ? stripFirst(route.steps, lot.part.material.baseMetal) : route.steps;
  const carried =
    supersedes === undefined ? new Map<number, number>() : await carry(tx, supersedes.id, steps);
  const number = supersedes?.number ?? (await nextNumber(tx.execute, 'traveler'));
  const revision = (supersedes?.revision ?? 0) + 1;
  if (supersedes !== undefined) {
    await queries.setTravelerStatus(tx.execute, { id: supersedes.id, status: 'superseded' });
  }
  const tankOf = new Map(lot.tanks.map(({ position, tankId }) => [position, tankId]));
  const { id } = await queries.addTraveler(tx, {
    number,
    revision,
    lotId: lot.id,
    kind: options.kind,
    reworkOfId: options.reworkOfId ?? null,
    quantity: options.quantity,
    recipeRevisionId: lot.recipeRevisionId,
    frozen: headOf(lot, { ...route, steps }, options.quantity),
    changeNote: options.changeNote,
    issuedById: actor.personId,
    steps: steps.map((step) => ({
      ...step,
      tankId: tankOf.get(step.position) ?? null,
      supplyId: step.electrical === null ? null : lot.supplyId,
      load:
        step.electrical === null
          ? null
          : loadOf({
              pieces: options.quantity,
              pieceAreaMm2: lot.part.electricalAreaMm2,
              rackAreaMm2: lot.rack?.bareAreaMm2 ?? 0,
              electrical: step.electrical,
            }),
      carriedSignOffId: carried.get(step.position) ?? null,
    })),
  });
  await writeAudit(tx.execute, actor, {
    kind: 'traveler',
    id,
    number: `${number} rev ${revision}`,
    action: supersedes === undefined ? 'issued' : `issued in place of revision ${supersedes.revision}`,
    reason: options.changeNote || null,
  });
  return id;
}

/**
 * The sign-offs that count on the next revision, by position. A route that no longer has the signed steps where they
 * were signed cannot take the old one's place.
 */
async function carry(tx: Tx, supersededId: number, steps: queries.RouteStep[]): Promise<Map<number, number>> {
  const before = orNotFound(await queries.readTraveler(tx.execute, supersededId), `traveler ${supersededId}`);
  const signed = before.steps.flatMap(({ position, kind, signOff }) =>
    signOff ? [{ position, kind, id: signOff.id }] : [],
  );
  for (const { position, kind } of signed) {
    const next = steps.find((step) => step.position === position);
    if (next?.kind !== kind) {
      throw new DomainError(
        'conflict',
        `Step ${position} (${kind}) is signed already, and the new route has ${next?.kind ?? 'nothing'} there. Finish this traveler and issue a rework instead.`,
      );
    }
  }
  return new Map(signed.map(({ position, id }) => [position, id]));
}

function headOf(
  lot: queries.LotFacts,
  route: NonNullable<Awaited<ReturnType<typeof queries.readRoute>>>,
  quantity: number,
): TravelerHead {
  const { customer, part, rack, supply } = lot;
  const { material } = part;
  return {
    customer: { number: customer.number, name: customer.name },
    order: { number: lot.orderNumber, line: lot.linePosition, customerOrderNumber: lot.customerOrderNumber },
    lot: { number: lot.number, quantity, ofLots: lot.ofLots },
    part: {
      number: part.number,
      revision: part.revision,
      description: part.description,
      conditionReceived: part.conditionReceived,
    },
    material: { name: material.name, condition: material.condition, baseMetal: material.baseMetal },
    area: {
      method: part.areaMethod,
      wettedMm2: part.areaMm2,
      electricalMm2: part.electricalAreaMm2,
      coatedMm2: part.coatedAreaMm2,
      maskedMm2: part.maskedAreaMm2,
      contactMm2: part.contactAreaMm2,
    },
    agreedColour: part.agreedColour,
    zones: part.zones,
    specification: part.specification,
    specificationRevision: part.specificationRevision,
    significantSurfaces: part.significantSurfaces,
    contactMarks: part.contactMarks,
    maskingNotes: part.maskingNotes,
    dimensionAllowance: part.dimensionAllowance,
    handling: part.handling,
    recipe: {
      ...{ number: route.number, name: route.name, revision: route.revision },
      ...(route.selfApproved ? { selfApproved: true as const } : {}),
    },
    rack:
      rack === null
        ? null
        : {
            code: rack.code,
            name: rack.name,
            baseMetal: rack.baseMetal,
            bareAreaMm2: rack.bareAreaMm2,
            hooks: rack.hooks,
          },
    supply:
      supply === null
        ? null
        : {
            code: supply.code,
            name: supply.name,
            maxVoltageV: supply.maxVoltageV,
            maxCurrentA: supply.maxCurrentA,
          },
    counts: { ordered: lot.ordered, received: lot.receivedCount },
    certificate: lot.certificate,
    inspectionLevel: lot.inspectionLevel,
    dueDate: lot.dueDate,
    priority: lot.priority,
    hazards: [...new Set(route.steps.flatMap(({ cautions }) => cautions))],
  };
}

/** Refuses steps whose tank was not chosen or does not exist among those that the release checked. */
export function checkTanksChosen(
  steps: { position: number; contents: string | null }[],
  tanks: { position: number }[],
) {
  const chosen = new Set(tanks.map(({ position }) => position));
  const missing = steps.find(
    ({ position, contents }) => contents !== null && contents !== 'air' && !chosen.has(position),
  );
  if (missing !== undefined)
    throw fieldError('tanks', `step ${missing.position} needs a tank that holds ${missing.contents}`);
}
