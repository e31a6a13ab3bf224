import { z } from 'zod';
import { StoredFile } from '../core/files.ts';
import { Role } from '../kernel/permissions.ts';
import { defineCommand, defineQuery } from '../kernel/http.ts';
import { Day, Id, Instant, Line, PathId, Version } from '../kernel/scalars.ts';
import { Family } from './steps.ts';

/** What somebody is fit to do: run and sign steps, analyse baths, approve recipes. */
export const Activity = z.enum(['sign', 'analyse', 'approve']);
export type Activity = z.output<typeof Activity>;

export const activityNames: Record<Activity, string> = {
  sign: 'run and sign steps',
  analyse: 'analyse baths',
  approve: 'approve recipes',
};

/** How many days before its end a competence shows on Today. */
export const COMPETENCE_ENDS_SOON_DAYS = 30;

/** `later` begins on a day to come. */
export const CompetenceState = z.enum(['valid', 'ends-soon', 'later', 'expired', 'withdrawn']);
export type CompetenceState = z.output<typeof CompetenceState>;

export const Competence = z
  .object({
    id: Id,
    personId: Id,
    activity: Activity,
    /** Null for every family of processes. */
    family: Family.nullable(),
    fromOn: Day,
    untilOn: Day.nullable(),
    evidence: z.string(),
    file: StoredFile.nullable(),
    grantedBy: z.string(),
    grantedAt: Instant,
    withdrawn: z.object({ by: z.string(), at: Instant, reason: z.string() }).nullable(),
    state: CompetenceState,
  })
  .meta({ id: 'Competence' });
export type Competence = z.output<typeof Competence>;

export const CompetenceBoard = z
  .object({
    /** Whether work outside competence takes a word; off until an owner turns it on. */
    rule: z.object({ on: z.boolean(), version: Version }),
    people: z.array(z.object({ id: Id, name: z.string(), roles: z.array(Role) })),
    /** The newest first, what was withdrawn among them. */
    items: z.array(Competence),
  })
  .meta({ id: 'CompetenceBoard' });
export type CompetenceBoard = z.output<typeof CompetenceBoard>;

export const listCompetence = defineQuery({
  name: 'listCompetence',
  tags: ['catalog'],
  path: '/competence',
  access: 'people.read',
  summary: 'Who is fit for which work until when, and whether that is asked for',
  query: { personId: PathId.optional() },
  reply: CompetenceBoard,
});
export const grantCompetence = defineCommand({
  name: 'grantCompetence',
  tags: ['catalog'],
  path: '/competence',
  access: 'competence.write',
  summary: 'Say by name, on evidence, that somebody is fit for a kind of work',
  body: z.strictObject({
    personId: Id,
    activity: Activity,
    family: Family.nullable(),
    fromOn: Day,
    untilOn: Day.nullable(),
    /** What shows it: a training, an examination, years of doing it. */
    evidence: Line(1000),
    fileId: Id.nullable(),
  }),
  reply: Competence,
  status: 201,
});
export const withdrawCompetence = defineCommand({
  name: 'withdrawCompetence',
  tags: ['catalog'],
  path: '/competence/:id/withdraw',
  access: 'competence.write',
  summary: 'Withdraw a competence, with the reason; it stays to be seen',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: Competence,
});
export const setCompetenceRule = defineCommand({
  name: 'setCompetenceRule',
  tags: ['catalog'],
  method: 'PUT',
  path: '/competence-rule',
  access: 'setup.write',
  summary: 'Turn on or off that work outside competence takes a word with a reason',
  body: z.strictObject({ on: z.boolean() }),
  reply: CompetenceBoard.shape.rule,
  versioned: true,
});

/** What a refusal says about: it takes a word for this person and this step, bath or revision of a recipe. */
export const OutsideCompetence = z.object({
  activity: Activity,
  subjectId: Id,
  personId: Id,
  person: z.string(),
  words: z.string(),
});
export type OutsideCompetence = z.output<typeof OutsideCompetence>;

export const allowOutsideCompetence = defineCommand({
  name: 'allowOutsideCompetence',
  tags: ['catalog'],
  path: '/competence-overrides',
  access: 'signed-in',
  summary:
    'Word of quality or an owner, proved by a PIN where they are not signed in, for one thing done outside competence',
  body: z.strictObject({
    activity: Activity,
    /** The step that is signed, the bath that is analysed, the revision that is approved. */
    subjectId: Id,
    /** Who does it. */
    personId: Id,
    reason: Line(500),
    by: z.strictObject({ personId: Id, pin: z.string().min(1).max(20) }).nullable(),
  }),
  reply: z.object({ by: z.string(), reason: z.string() }),
  status: 201,
});
export const listCompetenceJudges = defineQuery({
  name: 'listCompetenceJudges',
  tags: ['catalog'],
  path: '/competence-judges',
  access: 'signed-in',
  summary: 'People whose word lets work be done outside competence',
  reply: z.object({ items: z.array(z.object({ id: Id, displayName: z.string() })) }),
});
