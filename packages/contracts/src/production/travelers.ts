import { EvidenceVerdict } from '../colour/evidence-gate.ts';
import { z } from 'zod';
import { BathState, BathStatus } from '../lab/bath-status.ts';
import { InstrumentFault } from '../lab/instruments.ts';
import { IssuedPapers } from '../core/papers.ts';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import { AgreedColour } from '../catalog/colour-standards.ts';
import { PartZone } from '../catalog/part-zones.ts';
import { CustomerRef } from '../catalog/customers.ts';
import { DoneCorrection } from './done-correction.ts';
import { Electrical, StepKind, StepQuantity, StepSetting, TankContents } from '../catalog/steps.ts';
import {
  CountDifference,
  KeptDraft,
  PlacedInstrument,
  StepOverride,
  StepRun,
  TypedReading,
} from './step-floor.ts';
import { Pdf, Count, Day, Id, Instant, Line, PathId, Text } from '../kernel/scalars.ts';

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
    agreedColour: AgreedColour.nullable(),
    zones: z.array(PartZone),
    specification: z.string(),
    specificationRevision: z.string(),
    significantSurfaces: z.string(),
    contactMarks: z.string(),
    maskingNotes: z.string(),
    dimensionAllowance: z.string(),
    handling: z.string(),
    recipe: z.object({
      number: z.string(),
      name: z.string(),
      revision: z.int(),
      /** Approved by one of its writers, because nobody else may approve; absent where a second person did. */
      selfApproved: z.literal(true).optional(),
    }),
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
  /** Of the register of instruments. */
  instrumentId: Id.nullable(),
  /** It was overdue or had failed when it was read. */
  instrumentFault: InstrumentFault.nullable(),
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
/** The right counts of a signed step, written beside those that were signed. */
const CountCorrection = z.object({
  id: Id,
  countOut: Count,
  rejectCount: Count,
  countDifference: z.int(),
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
    /** Pieces found more (+) or fewer (−) than came from the previous step. */
    countDifference: z.int(),
    /** Why pieces were rejected, missing or too many. */
    countReason: z.string(),
    /** The newest stands. */
    countCorrections: z.array(CountCorrection),
    doneCorrections: z.array(DoneCorrection),
    outside: z.boolean(),
    reason: z.string(),
    note: z.string(),
    /** By how much the clock of the tablet was fast (+) or slow (−); `doneAt` is put right by it. */
    clockDifferenceS: z.int(),
    /** Signed faster than the step takes: the longest it can have been, and what was said to it. */
    shortTime: z.object({ tookS: z.int(), reason: z.string() }).nullable(),
    /** Refused when it came, and taken by quality as done before the hold. */
    accepted: z.object({ by: z.string(), at: Instant, reason: z.string() }).nullable(),
    readings: z.array(Reading),
    corrections: z.array(Correction),
    /** How the bath stood when the step was signed in it; null where none was used. */
    bathState: BathState.nullable(),
    bathReasons: z.array(z.string()),
    /** Who let it run in a stopped or overdue bath, and why. */
    override: z.object({ by: z.string(), reason: z.string() }).nullable(),
    /** Whoever signed was not on record as fit for it: who let them, and why. */
    outsideCompetence: z.object({ by: z.string(), reason: z.string() }).nullable(),
  })
  .meta({ id: 'SignOff' });
export type SignOff = z.output<typeof SignOff>;

/** The counts of a signed step that stand, after corrections. */
export const standingCounts = (
  signOff: SignOff,
): Pick<SignOff, 'countOut' | 'rejectCount' | 'countDifference'> =>
  signOff.countCorrections.at(-1) ?? signOff;

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
    /** In and Out of the tank, as they were stamped. */
    run: StepRun.nullable(),
    /** What is typed at the step and not signed yet, newest first. */
    drafts: z.array(KeptDraft),
    /** The word that the step may run in its bath as it stands, while it is good. */
    override: StepOverride.nullable(),
    /** Of an unsigned step: what reads its figures. */
    instruments: z.array(PlacedInstrument),
    /** Of an unsigned colour step: whether the recipe is proved on the part, and whose word lets it be signed. */
    evidence: z
      .object({
        verdict: EvidenceVerdict,
        allowed: z.object({ by: z.string(), reason: z.string() }).nullable(),
      })
      .nullable(),
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

export const getTraveler = defineQuery({
  name: 'getTraveler',
  tags: ['production'],
  path: '/travelers/:id',
  access: 'lots.read',
  summary: 'One revision of a traveler, current or not',
  params: { id: PathId },
  reply: Traveler,
});
/** The traveler on paper, with its QR code. */
export const printTraveler = defineQuery({
  name: 'printTraveler',
  tags: ['production'],
  path: '/travelers/:id/pdf',
  access: 'lots.read',
  summary: 'A traveler as a PDF with its QR code',
  params: { id: PathId },
  reply: Pdf,
  perMinute: 120,
});
export const listTravelerPapers = defineQuery({
  name: 'listTravelerPapers',
  tags: ['production'],
  path: '/travelers/:id/papers',
  access: 'lots.read',
  summary: 'The papers that were printed of a revision of a traveler, newest first',
  params: { id: PathId },
  reply: IssuedPapers,
});
export const printTravelerIssue = defineQuery({
  name: 'printTravelerIssue',
  tags: ['production'],
  path: '/travelers/:id/papers/:issue/pdf',
  access: 'lots.read',
  summary: 'One issue of the paper of a traveler, as it was printed',
  params: { id: PathId, issue: z.coerce.number().int().min(1).max(1_000_000) },
  reply: Pdf,
  perMinute: 120,
});
/** What a QR code on paper leads to: the revision it was printed with, and the one that is current. */
export const findTraveler = defineQuery({
  name: 'findTraveler',
  tags: ['production'],
  path: '/travelers/by-number/:number/:revision',
  access: 'lots.read',
  summary: 'The traveler a printed code names, and whether it is current',
  params: { number: z.string().min(1).max(40), revision: z.coerce.number().int().min(1).max(10_000) },
  reply: z.object({
    traveler: z.object({ id: Id, number: z.string(), revision: z.int(), status: TravelerStatus, lotId: Id }),
    current: z.object({ id: Id, revision: z.int() }).nullable(),
  }),
});
export const reissueTraveler = defineCommand({
  name: 'reissueTraveler',
  tags: ['production'],
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
export const getTanksideLot = defineQuery({
  name: 'getTanksideLot',
  tags: ['production'],
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
export const listReadySteps = defineQuery({
  name: 'listReadySteps',
  tags: ['production'],
  path: '/tankside',
  access: 'lots.read',
  summary: 'The next step of every lot on the floor, most urgent first',
  query: { tankId: PathId.optional(), search: z.string().trim().max(100).optional() },
  reply: z.object({ items: z.array(ReadyStep) }),
});

/** Where a tablet says what its clock shows while it sends a sign-off: the clock of the server decides. */
export const sentAtHeader = 'huelot-sent-at';

/** Signs a step for good. Signing as somebody else at a shared tablet needs that person's PIN. */
export const signStep = defineCommand({
  name: 'signStep',
  tags: ['production'],
  path: '/steps/:id/sign-off',
  access: 'steps.sign',
  summary: 'Sign a step with what was really done',
  params: { id: PathId },
  body: z.strictObject({
    /** Who signed at the tablet: refused unless that is who is signed in when it arrives. */
    personId: Id.optional(),
    doneAt: Instant,
    countIn: Count,
    countOut: Count,
    rejectCount: Count,
    countDifference: CountDifference.default(0),
    /** Needed when pieces were rejected, are missing or too many. */
    countReason: Text(500).default(''),
    readings: z.array(TypedReading).max(50),
    /** Needed when a reading is outside its limits. */
    reason: Text(500),
    note: Text(1000),
    /** Needed when less time has passed than the step takes. */
    shortTimeReason: Text(500).default(''),
    tankId: Id.nullable(),
    supplyId: Id.nullable(),
    signer: z.strictObject({ personId: Id, pin: z.string().min(1).max(20) }).nullable(),
    /** Needed in a stopped or overdue bath: the override that was given for this step. */
    overrideId: Id.nullable().optional(),
  }),
  reply: Traveler,
  status: 201,
});
export const correctReading = defineCommand({
  name: 'correctReading',
  tags: ['production'],
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
});
export const correctCounts = defineCommand({
  name: 'correctCounts',
  tags: ['production'],
  path: '/sign-offs/:id/count-corrections',
  access: 'steps.correct',
  summary: 'Append the right counts beside those of a signed step, until the next step is signed',
  params: { id: PathId },
  body: z.strictObject({
    rejectCount: Count,
    /** Pieces found more (+) or fewer (−) than came from the previous step. */
    countDifference: z.int().min(-1_000_000).max(1_000_000),
    reason: Line(500),
  }),
  reply: Traveler,
  status: 201,
});
/** For a signature made by mistake: the step was not done, or was done at another time. What was signed stands beside it. */
export const correctSignOff = defineCommand({
  name: 'correctSignOff',
  tags: ['production'],
  path: '/sign-offs/:id/done-corrections',
  access: 'steps.correct',
  summary: 'Say that a signed step was not done, which holds its lot, or when it really was done',
  params: { id: PathId },
  body: z.strictObject({
    /** When the step was really done; null where it was not done. */
    doneAt: Instant.nullable(),
    reason: Line(500),
  }),
  reply: Traveler,
  status: 201,
});
