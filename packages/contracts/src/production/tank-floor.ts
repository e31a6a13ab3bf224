import { UnprovedWord } from '../colour/evidence-gate.ts';
import { z } from 'zod';
import { EmptyBody, EmptyReply, defineQuery, defineCommand } from '../kernel/http.ts';
import { Count, Id, Instant, Line, PathId } from '../kernel/scalars.ts';
import { StepDraft, StepOverride, TypedReading } from './step-floor.ts';
import { signStep, Traveler } from './travelers.ts';

const WEEK_S = 7 * 24 * 3600;
/** How long ago it was, so that the clock of the tablet does not matter. */
const Stamp = z.strictObject({ agoS: z.int().min(0).max(WEEK_S) });

export const takeStepIn = defineCommand({
  name: 'takeStepIn',
  tags: ['production'],
  path: '/steps/:id/in',
  access: 'steps.sign',
  summary: 'Stamp that the load of a step went into the tank',
  params: { id: PathId },
  body: Stamp,
  reply: Traveler,
});
export const takeStepOut = defineCommand({
  name: 'takeStepOut',
  tags: ['production'],
  path: '/steps/:id/out',
  access: 'steps.sign',
  summary: 'Stamp that the load of a step came out of the tank',
  params: { id: PathId },
  body: Stamp,
  reply: Traveler,
});
export const setStepBack = defineCommand({
  name: 'setStepBack',
  tags: ['production'],
  path: '/steps/:id/set-back',
  access: 'steps.sign',
  summary: 'Reset the clock of a step; the stamps stay on record',
  params: { id: PathId },
  body: EmptyBody,
  reply: Traveler,
});
export const keepStepDraft = defineCommand({
  name: 'keepStepDraft',
  tags: ['production'],
  method: 'PUT',
  path: '/steps/:id/draft',
  access: 'steps.sign',
  summary: 'Keep what is typed at a step and not signed yet; one draft a person',
  params: { id: PathId },
  body: StepDraft,
  reply: EmptyReply,
  keyless: 'keeps a draft',
});
export const permitStep = defineCommand({
  name: 'permitStep',
  tags: ['production'],
  path: '/steps/:id/overrides',
  access: 'steps.sign',
  summary: 'Override, proved by a PIN, so that a step may run in its bath as it is',
  params: { id: PathId },
  body: z.strictObject({
    reason: Line(500),
    /** Null is whoever is signed in. */
    by: z.strictObject({ personId: Id, pin: z.string().min(1).max(20) }).nullable(),
  }),
  reply: StepOverride,
  status: 201,
});

/** A sign-off from a tablet without network that the record could not take: its facts wait for quality. */
export const ParkedSignOff = z
  .object({
    id: Id,
    lot: z.object({ id: Id, number: z.string() }),
    step: z.object({ id: Id, position: z.int(), title: z.string(), traveler: z.string(), revision: z.int() }),
    personId: Id,
    person: z.string(),
    doneAt: Instant,
    parkedAt: Instant,
    /** Why it was refused when it came. */
    refusal: z.string(),
    countIn: Count,
    countOut: Count,
    rejectCount: Count,
    readings: z.array(TypedReading),
    reason: z.string(),
    note: z.string(),
    decision: z
      .object({
        kind: z.enum(['accepted', 'set-aside']),
        by: z.string(),
        at: Instant,
        reason: z.string(),
      })
      .nullable(),
  })
  .meta({ id: 'ParkedSignOff' });
export type ParkedSignOff = z.output<typeof ParkedSignOff>;

export const parkSignOff = defineCommand({
  name: 'parkSignOff',
  tags: ['production'],
  path: '/steps/:id/parked-sign-offs',
  access: 'steps.sign',
  summary: 'Sign a step that was done offline; what the rules refuse is kept for quality to decide',
  params: { id: PathId },
  body: signStep.body.extend({ personId: Id, signer: z.null() }),
  reply: z.object({ traveler: Traveler, parked: ParkedSignOff.nullable() }),
  status: 201,
});
export const listParkedSignOffs = defineQuery({
  name: 'listParkedSignOffs',
  tags: ['production'],
  path: '/parked-sign-offs',
  access: 'lots.read',
  summary: 'Sign-offs that wait for quality, or all of a lot',
  query: { lotId: PathId.optional() },
  reply: z.object({ items: z.array(ParkedSignOff) }),
});
export const settleParkedSignOff = defineCommand({
  name: 'settleParkedSignOff',
  tags: ['production'],
  path: '/parked-sign-offs/:id/settle',
  access: 'steps.settle',
  summary: 'Accept a parked sign-off as done before the hold, or set it aside, with a reason',
  params: { id: PathId },
  body: z.strictObject({ decision: z.enum(['accepted', 'set-aside']), reason: Line(500) }),
  reply: ParkedSignOff,
});

/** Somebody's word that the colour steps of a lot are signed although no evidence proves the recipe on its part. */
export const allowUnprovedStep = defineCommand({
  name: 'allowUnprovedStep',
  tags: ['production'],
  path: '/steps/:id/evidence-exceptions',
  access: 'steps.sign',
  summary:
    'Word, proved by a PIN, that a colour step may be signed without evidence; the lot and its trace keep it',
  params: { id: PathId },
  body: UnprovedWord,
  reply: z.object({ by: z.string(), reason: z.string() }),
  status: 201,
});
