import { z } from 'zod';
import { BaseMetal } from '../catalog/base-metals.ts';
import { TankContents } from '../catalog/steps.ts';
import { StrengthUnit } from '../colour/coupons.ts';
import { FactorFigure } from '../colour/trial-factors.ts';
import { EmptyBody, defineCommand, defineQuery } from '../kernel/http.ts';
import {
  Id,
  Instant,
  Line,
  listQuery,
  page,
  PathId,
  Positive,
  Quantity,
  Text,
  Version,
} from '../kernel/scalars.ts';
import { BathState, BathStatus } from '../lab/bath-status.ts';

/** `coupons` go in and out together; a `strip` is lifted out step by step, each band an interval longer under voltage. */
export const TrialRunKind = z.enum(['coupons', 'strip']);
export type TrialRunKind = z.output<typeof TrialRunKind>;
export const TrialRunState = z.enum(['planned', 'running', 'signed', 'withdrawn']);
export type TrialRunState = z.output<typeof TrialRunState>;

const planned = {
  kind: TrialRunKind,
  /** Coupons, or bands of the strip. */
  pieces: z.int().min(1).max(100),
  /** Of the anodic coating that is dyed. */
  coatingThicknessUm: FactorFigure('coatingThicknessUm').nullable(),
  temperatureC: FactorFigure('temperatureC'),
  voltageV: FactorFigure('voltageV').nullable(),
  /** Of coupons: how long they stay in. */
  timeS: FactorFigure('timeS').nullable(),
  /** Of a strip: every so often it is lifted by so much. */
  intervalS: Positive(100_000).nullable(),
  stepMm: Positive(10_000).nullable(),
  instructions: Text(1000),
};

export const TrialPlan = z
  .strictObject({ seriesId: Id, tankId: Id, supplyId: Id.nullable(), ...planned })
  .superRefine(({ kind, timeS, intervalS, stepMm, pieces }, context) => {
    const fault = (path: string, message: string) =>
      context.addIssue({ code: 'custom', path: [path], message });
    const wanted = {
      timeS: [timeS, 'coupons'],
      intervalS: [intervalS, 'strip'],
      stepMm: [stepMm, 'strip'],
    } as const;
    for (const [path, [value, of]] of Object.entries(wanted)) {
      if (kind === of && value === null) fault(path, 'must be filled in');
      if (kind !== of && value !== null)
        fault(path, `must be empty: it is ${of === 'strip' ? 'of a strip' : 'of coupons'}`);
    }
    if (kind === 'strip' && pieces < 2) fault('pieces', 'must be at least 2: a strip has bands');
  });
export type TrialPlan = z.output<typeof TrialPlan>;

/** What somebody read at the tank during a trial. */
export const TrialReading = z.strictObject({
  temperatureC: FactorFigure('temperatureC'),
  voltageV: FactorFigure('voltageV').nullable(),
  currentA: Quantity(100_000).nullable(),
  pH: FactorFigure('pH').nullable(),
});
export type TrialReading = z.output<typeof TrialReading>;

const stamp = { at: Instant, by: z.string() };
/** What one coupon or band was made under, by the record of the tank. Bands in the order in which they left the bath. */
export const TrialPiece = z.object({
  position: z.int().positive(),
  coatingThicknessUm: z.number().nullable(),
  temperatureC: z.number(),
  voltageV: z.number().nullable(),
  timeS: z.number(),
  strength: z.number(),
  pH: z.number().nullable(),
  currentDensityAPerM2: z.number().nullable(),
});
export type TrialPiece = z.output<typeof TrialPiece>;

const Named = z.object({ id: Id, code: z.string(), name: z.string() });
const head = {
  id: Id,
  number: z.string(),
  state: TrialRunState,
  seriesCode: z.string(),
  material: z.object({ id: Id, name: z.string(), condition: z.string(), baseMetal: BaseMetal }),
  contents: TankContents,
  ...planned,
  tank: Named,
  supply: Named.nullable(),
  plannedBy: z.string(),
  plannedAt: Instant,
  /** When they went in, since the clock was last reset. */
  inAt: Instant.nullable(),
  signedBy: z.string().nullable(),
  signedAt: Instant.nullable(),
  version: Version,
};
export const TrialRunItem = z.object(head).meta({ id: 'TrialRunItem' });
export type TrialRunItem = z.output<typeof TrialRunItem>;

/** Why a trial cannot go in as things stand. */
export const TrialObstacle = z.enum([
  'no-bath',
  'not-filled',
  'other-contents',
  'strength-not-watched',
  'not-analysed',
  'changed-since',
]);
export type TrialObstacle = z.output<typeof TrialObstacle>;

export const TrialRun = z
  .object({
    ...head,
    component: z.string(),
    unit: StrengthUnit,
    referenceTemperatureC: z.number().nullable(),
    /** The draft of its series, where there is one. */
    draft: z.object({ id: Id, revision: z.int() }).nullable(),
    /** Of the bath it runs in, or would run in now. */
    bath: z.object({ id: Id, number: z.string() }).nullable(),
    bathStatus: BathStatus.nullable(),
    strength: z
      .object({ value: z.number(), analysisId: Id, analysisNumber: z.string(), sampledAt: Instant })
      .nullable(),
    obstacle: TrialObstacle.nullable(),
    inBy: z.string().nullable(),
    outAt: Instant.nullable(),
    outBy: z.string().nullable(),
    lifts: z.array(z.object({ position: z.int(), ...stamp })),
    pauses: z.array(
      z.object({
        from: Instant,
        to: Instant.nullable(),
        by: z.string(),
        reason: z.string(),
        supplyOff: z.boolean(),
      }),
    ),
    readings: z.array(z.object({ ...TrialReading.shape, ...stamp })),
    /** Clocks that were set back, and overrides of the bath. */
    resets: z.array(z.object(stamp)),
    override: z.object({ ...stamp, reason: z.string(), state: BathState }).nullable(),
    areaMm2: z.number().nullable(),
    reason: z.string(),
    note: z.string(),
    results: z.array(TrialPiece),
    /** The revision of the series that its trials went into. */
    landedIn: z.object({ id: Id, revision: z.int() }).nullable(),
    withdrawn: z.object({ ...stamp, reason: z.string() }).nullable(),
  })
  .meta({ id: 'TrialRun' });
export type TrialRun = z.output<typeof TrialRun>;

/** How far a trial may be from its plan before somebody is asked why: house rule, no source. */
const near = { temperatureC: 3, share: 0.1 };
/**
 * What of a trial is away from its plan, so that a reason is asked with its signature: more than 3 °C, or more than a tenth
 * of voltage or time. The time of a strip is that of its lifts, and is never away.
 */
export function awayFromPlan(
  plan: Pick<TrialRun, 'temperatureC' | 'voltageV' | 'timeS'>,
  pieces: readonly Pick<TrialPiece, 'temperatureC' | 'voltageV' | 'timeS'>[],
): ('temperatureC' | 'voltageV' | 'timeS')[] {
  const isAway = (key: 'voltageV' | 'timeS') =>
    pieces.some((piece) => {
      const [set, was] = [plan[key], piece[key]];
      return set !== null && was !== null && Math.abs(was - set) > near.share * set;
    });
  return [
    ...(pieces.some(({ temperatureC }) => Math.abs(temperatureC - plan.temperatureC) > near.temperatureC)
      ? (['temperatureC'] as const)
      : []),
    ...(['voltageV', 'timeS'] as const).filter(isAway),
  ];
}

export const listTrialRuns = defineQuery({
  name: 'listTrialRuns',
  tags: ['production'],
  path: '/trial-runs',
  access: 'lab.read',
  summary: 'Trials planned for coupon series, the newest first; those not finished unless asked otherwise',
  query: {
    search: listQuery.search,
    after: listQuery.after,
    limit: listQuery.limit,
    state: z.enum(['open', 'finished', 'all']).optional(),
    tankId: PathId.optional(),
    seriesCode: z.string().max(20).optional(),
  },
  reply: page(TrialRunItem),
});
export const getTrialRun = defineQuery({
  name: 'getTrialRun',
  tags: ['production'],
  path: '/trial-runs/:id',
  access: 'lab.read',
  summary: 'One trial: its plan, what happened at the tank, and what each coupon or band was made under',
  params: { id: PathId },
  reply: TrialRun,
});

const command = { tags: ['production'] as ['production'], params: { id: PathId }, reply: TrialRun };
const WEEK_S = 7 * 24 * 3600;
/** How long ago it was, so that the clock of the tablet does not matter. */
const agoS = z.number().min(0).max(WEEK_S);

export const planTrialRun = defineCommand({
  name: 'planTrialRun',
  tags: ['production'],
  path: '/trial-runs',
  access: 'coupons.write',
  summary: 'Plan coupons or a strip for a draft of a coupon series, to be run at a tank',
  body: TrialPlan,
  reply: TrialRun,
  status: 201,
});
export const withdrawTrialRun = defineCommand({
  ...command,
  name: 'withdrawTrialRun',
  path: '/trial-runs/:id/withdraw',
  access: 'coupons.write',
  summary: 'Withdraw a trial that is not signed; what happened stays on record',
  body: z.strictObject({ reason: Line(500) }),
});
export const landTrialRun = defineCommand({
  ...command,
  name: 'landTrialRun',
  path: '/trial-runs/:id/land',
  access: 'coupons.write',
  summary:
    'Put the trials of a signed run into the draft of its series, where there was none when it was signed',
  body: EmptyBody,
});
export const permitTrialRun = defineCommand({
  ...command,
  name: 'permitTrialRun',
  path: '/trial-runs/:id/overrides',
  access: 'steps.sign',
  summary: 'Override, proved by a PIN, so that a trial may run in its bath as it is',
  body: z.strictObject({
    reason: Line(500),
    /** Null is whoever is signed in. */
    by: z.strictObject({ personId: Id, pin: z.string().min(1).max(20) }).nullable(),
  }),
  status: 201,
});
export const takeTrialIn = defineCommand({
  ...command,
  name: 'takeTrialIn',
  path: '/trial-runs/:id/in',
  access: 'steps.sign',
  summary: 'Stamp that a trial went into the tank; bath and concentration are taken from the record',
  body: z.strictObject({ agoS }),
});
export const liftTrialStrip = defineCommand({
  ...command,
  name: 'liftTrialStrip',
  path: '/trial-runs/:id/lifts',
  access: 'steps.sign',
  summary: 'Stamp that a strip was lifted by one step: the band so lifted is out of the bath',
  body: z.strictObject({
    /** Which lift it is: one that was stamped already is refused. */
    position: z.int().positive().max(100),
    agoS,
  }),
  status: 201,
});
export const pauseTrialRun = defineCommand({
  ...command,
  name: 'pauseTrialRun',
  path: '/trial-runs/:id/pauses',
  access: 'steps.sign',
  summary: 'Stamp that lifting pauses, and whether the supply is off: then the time does not count',
  body: z.strictObject({ reason: Line(200), supplyOff: z.boolean(), agoS }),
  status: 201,
});
export const resumeTrialRun = defineCommand({
  ...command,
  name: 'resumeTrialRun',
  path: '/trial-runs/:id/resume',
  access: 'steps.sign',
  summary: 'Stamp that lifting goes on',
  body: z.strictObject({ agoS }),
});
export const addTrialReading = defineCommand({
  ...command,
  name: 'addTrialReading',
  path: '/trial-runs/:id/readings',
  access: 'steps.sign',
  summary: 'Write down what was read at the tank during a trial',
  body: TrialReading.extend({ agoS }),
  status: 201,
});
export const takeTrialOut = defineCommand({
  ...command,
  name: 'takeTrialOut',
  path: '/trial-runs/:id/out',
  access: 'steps.sign',
  summary: 'Stamp that a trial came out, with the last band of a strip',
  body: z.strictObject({ agoS }),
});
export const resetTrialRun = defineCommand({
  ...command,
  name: 'resetTrialRun',
  path: '/trial-runs/:id/reset',
  access: 'steps.sign',
  summary: 'Reset the clock of a trial; the stamps stay on record',
  body: EmptyBody,
});
/** Signs a trial for good. Signing as somebody else at a shared tablet needs that person's PIN. */
export const signTrialRun = defineCommand({
  ...command,
  name: 'signTrialRun',
  path: '/trial-runs/:id/sign-off',
  access: 'steps.sign',
  summary: 'Sign a trial: what each coupon or band was made under goes into the draft of its series',
  body: z.strictObject({
    /** Of all coupons together, where the current was read; null for a strip, whose area changes. */
    areaMm2: Positive(1e9).nullable(),
    /** Needed when a reading or the time is away from the plan. */
    reason: Text(500),
    note: Text(1000),
    signer: z.strictObject({ personId: Id, pin: z.string().min(1).max(20) }).nullable(),
  }),
  status: 201,
});
