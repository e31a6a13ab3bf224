import { z } from 'zod';
import { BathState, BathStatus } from './bath-status.ts';
import { reading, writing } from './http.ts';
import { CustomerRef } from './customers.ts';
import { Electrical, StepKind, StepQuantity, StepSetting, TankContents } from './steps.ts';
import { Count, Day, Id, Instant, Line, PathId, Text } from './scalars.ts';

export const TravelerStatus = z.enum(['issued', 'complete', 'superseded', 'cancelled']);
export const TravelerKind = z.enum(['first', 'rework']);

/** What stands at the head of the paper, as it was at issue. */
export const TravelerHead = z
  .object({
    customer: z.object({ number: z.string(), name: z.string() }),
    order: z.object({ number: z.string(), line: z.int(), customerOrderNumber: z.string() }),
    lot: z.object({ number: z.string(), quantity: Count, ofLots: Count }),
    part: z.object({
      number: z.string(),
      revision: z.string(),
      description: z.string(),
      conditionReceived: z.string(),
    }),
    material: z.object({ name: z.string(), condition: z.string(), baseMetal: z.string() }),
    area: z.object({
      method: z.string(),
      wettedMm2: z.number(),
      electricalMm2: z.number(),
      coatedMm2: z.number(),
      maskedMm2: z.number(),
      contactMm2: z.number(),
    }),
    colour: z.object({
      kind: z.enum(['none', 'sample', 'lab']),
      sample: z.string(),
      lab: z.object({ L: z.number(), a: z.number(), b: z.number() }).nullable(),
      toleranceDeltaE: z.number().nullable(),
    }),
    specification: z.string(),
    specificationRevision: z.string(),
    significantSurfaces: z.string(),
    contactMarks: z.string(),
    maskingNotes: z.string(),
    dimensionAllowance: z.string(),
    handling: z.string(),
    recipe: z.object({ number: z.string(), name: z.string(), revision: z.int() }),
    rack: z
      .object({
        code: z.string(),
        name: z.string(),
        baseMetal: z.string(),
        bareAreaMm2: z.number(),
        hooks: z.int().nullable(),
      })
      .nullable(),
    supply: z
      .object({ code: z.string(), name: z.string(), maxVoltageV: z.number(), maxCurrentA: z.number() })
      .nullable(),
    counts: z.object({ ordered: Count, received: Count.nullable() }),
    certificate: z.boolean(),
    inspectionLevel: z.string(),
    dueDate: Day,
    priority: z.int(),
    hazards: z.array(z.string()),
  })
  .meta({ id: 'TravelerHead' });
export type TravelerHead = z.output<typeof TravelerHead>;

export const Reading = z.object({
  quantity: StepQuantity,
  value: z.number(),
  target: z.number().nullable(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  outside: z.boolean(),
  instrument: z.string(),
});
export const Correction = z.object({
  id: Id,
  quantity: StepQuantity,
  oldValue: z.number().nullable(),
  newValue: z.number(),
  reason: z.string(),
  by: z.string(),
  at: Instant,
});
export const SignOff = z
  .object({
    id: Id,
    personId: Id,
    person: z.string(),
    doneAt: Instant,
    enteredAt: Instant,
    tank: z.object({ id: Id, code: z.string() }).nullable(),
    bath: z.object({ id: Id, number: z.string() }).nullable(),
    supply: z.object({ id: Id, code: z.string() }).nullable(),
    countIn: Count,
    countOut: Count,
    rejectCount: Count,
    outside: z.boolean(),
    reason: z.string(),
    note: z.string(),
    readings: z.array(Reading),
    corrections: z.array(Correction),
    /** How the bath stood when the step was signed in it; null where none was used. */
    bathState: BathState.nullable(),
    bathReasons: z.array(z.string()),
    /** Who let it run in a stopped or overdue bath, and why. */
    override: z.object({ by: z.string(), reason: z.string() }).nullable(),
  })
  .meta({ id: 'SignOff' });
export type SignOff = z.output<typeof SignOff>;

/** What the supply should show for the whole load, computed from area, rack and the density of the recipe. */
export const StepLoad = z.object({
  loadAreaMm2: z.number(),
  peakCurrentA: z.number(),
  steadyCurrentA: z.number(),
});

export const TravelerStep = z
  .object({
    id: Id,
    position: z.int(),
    kind: StepKind,
    title: z.string(),
    instructions: z.string(),
    contents: TankContents.nullable(),
    tank: z.object({ id: Id, code: z.string(), name: z.string() }).nullable(),
    supply: z.object({ id: Id, code: z.string(), name: z.string() }).nullable(),
    durationS: z.int(),
    dripS: z.int(),
    settings: z.array(StepSetting),
    electrical: Electrical.nullable(),
    load: StepLoad.nullable(),
    cautions: z.array(z.string()),
    record: z.array(StepQuantity),
    signOff: SignOff.nullable(),
    /** Signed on an earlier revision of the same traveler; it counts here. */
    carried: z.boolean(),
    /** How the bath in that tank stands now; null once the step is signed, and where there is none. */
    bathStatus: BathStatus.nullable(),
  })
  .meta({ id: 'TravelerStep' });
export type TravelerStep = z.output<typeof TravelerStep>;

export const Traveler = z
  .object({
    id: Id,
    number: z.string(),
    revision: z.int(),
    kind: TravelerKind,
    status: TravelerStatus,
    lot: z.object({ id: Id, number: z.string(), status: z.string(), held: z.boolean(), version: z.int() }),
    reworkOf: z.object({ id: Id, number: z.string(), revision: z.int() }).nullable(),
    quantity: Count,
    head: TravelerHead,
    changeNote: z.string(),
    issuedBy: z.string(),
    issuedAt: Instant,
    steps: z.array(TravelerStep),
    /** Why the lot waits, while it is on hold. */
    holds: z.array(z.object({ id: Id, reason: z.string(), placedBy: z.string(), placedAt: Instant })),
  })
  .meta({ id: 'Traveler' });
export type Traveler = z.output<typeof Traveler>;

export const getTraveler = reading({
  path: '/travelers/:id',
  access: 'lots.read',
  summary: 'One revision of a traveler, current or not',
  params: { id: PathId },
  reply: Traveler,
});
/** What a QR code on paper leads to: the revision it was printed with, and the one that is current. */
export const findTraveler = reading({
  path: '/travelers/by-number/:number/:revision',
  access: 'lots.read',
  summary: 'The traveler a printed code names, and whether it is current',
  params: { number: z.string().min(1).max(40), revision: z.coerce.number().int().min(1).max(10_000) },
  reply: z.object({
    traveler: z.object({ id: Id, number: z.string(), revision: z.int(), status: TravelerStatus, lotId: Id }),
    current: z.object({ id: Id, revision: z.int() }).nullable(),
  }),
});
export const reissueTraveler = writing({
  path: '/lots/:id/travelers',
  access: 'lots.release',
  summary: 'Issue a new revision of the lot’s traveler; the one before is superseded',
  params: { id: PathId },
  body: z.strictObject({
    changeNote: Line(500),
    recipeRevisionId: Id.nullable(),
    tanks: z.array(z.strictObject({ position: z.int().min(1).max(200), tankId: Id })).max(200),
    supplyId: Id.nullable(),
  }),
  reply: Traveler,
  status: 201,
});

/** A lot at the tank: the current traveler of the lot, everything the screen needs in one answer. */
export const openLotAtTank = reading({
  path: '/tankside/lots/:id',
  access: 'lots.read',
  summary: 'The current traveler of a lot with what is signed so far',
  params: { id: PathId },
  reply: Traveler,
});

export const ReadyStep = z.object({
  lotId: Id,
  lotNumber: z.string(),
  travelerNumber: z.string(),
  travelerRevision: z.int(),
  kind: TravelerKind,
  customer: CustomerRef.shape.name,
  part: z.string(),
  quantity: Count,
  dueDate: Day,
  priority: z.int(),
  held: z.boolean(),
  stepId: Id,
  position: z.int(),
  stepCount: z.int(),
  stepKind: StepKind,
  title: z.string(),
  tank: z.object({ id: Id, code: z.string(), name: z.string() }).nullable(),
  durationS: z.int(),
  /** How the bath in that tank stands now. */
  bathStatus: BathStatus.nullable(),
});
export const listReadySteps = reading({
  path: '/tankside',
  access: 'lots.read',
  summary: 'The next step of every lot on the floor, most urgent first',
  query: { tankId: PathId.optional(), search: z.string().trim().max(100).optional() },
  reply: z.object({ items: z.array(ReadyStep) }),
});

/** Signs a step for good. Signing as somebody else at a shared tablet needs that person's PIN. */
export const signStep = writing({
  path: '/steps/:id/sign-off',
  access: 'steps.sign',
  summary: 'Sign a step with what was really done',
  params: { id: PathId },
  body: z.strictObject({
    doneAt: Instant,
    countIn: Count,
    countOut: Count,
    rejectCount: Count,
    readings: z
      .array(
        z.strictObject({
          quantity: StepQuantity,
          value: z.number().min(-1e9).max(1e9),
          instrument: Text(60),
        }),
      )
      .max(50),
    /** Needed when a reading is outside its limits. */
    reason: Text(500),
    note: Text(1000),
    tankId: Id.nullable(),
    supplyId: Id.nullable(),
    signer: z.strictObject({ personId: Id, pin: z.string().min(1).max(20) }).nullable(),
    /** Needed in a stopped or overdue bath: why it may run, and whose word that is; null is the signer's own. */
    override: z
      .strictObject({
        reason: Line(500),
        by: z.strictObject({ personId: Id, pin: z.string().min(1).max(20) }).nullable(),
      })
      .nullable()
      .optional(),
  }),
  reply: Traveler,
  status: 201,
  idempotent: true,
});
export const correctReading = writing({
  path: '/sign-offs/:id/corrections',
  access: 'steps.correct',
  summary: 'Append a correction to a reading of a signed step; the reading itself stands',
  params: { id: PathId },
  body: z.strictObject({
    quantity: StepQuantity,
    newValue: z.number().min(-1e9).max(1e9),
    reason: Line(500),
  }),
  reply: Traveler,
  status: 201,
  idempotent: true,
});
