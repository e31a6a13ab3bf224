import { z } from 'zod';
import { Approval, ApprovalBody, RevisionStatus } from '../core/approvals.ts';
import { StoredFile } from '../core/files.ts';
import { EmptyBody, EmptyReply, defineCommand, defineQuery } from '../kernel/http.ts';
import {
  Csv,
  Day,
  Id,
  Instant,
  Lab,
  Line,
  listQuery,
  page,
  PathId,
  Positive,
  Text,
  Version,
} from '../kernel/scalars.ts';
import { ColourGrade, MeasuringConditions } from './colour-grades.ts';
import { CustomerRef } from './customers.ts';

/**
 * How far a reading may lie off: from the target, or from the line that runs from the light end over the target to the dark
 * end. CIEDE2000 with its three factors; 1, 1, 1 unless the customer agreed to others.
 */
export const ColourTolerance = z.strictObject({
  from: z.enum(['target', 'ends']),
  deltaE: z.number().min(0.1).max(50),
  kL: Positive(10),
  kC: Positive(10),
  kH: Positive(10),
});
export type ColourTolerance = z.output<typeof ColourTolerance>;

/** A piece that was agreed to: two people hold the work beside it. */
export const ColourSample = z.strictObject({ name: Line(300), keptAt: Text(300) });
export type ColourSample = z.output<typeof ColourSample>;

/** What a standard rests on: figures, a piece, both, or words until there is more. */
export const ColourBasis = z.enum(['lab', 'sample', 'lab-and-sample', 'words']);
export type ColourBasis = z.output<typeof ColourBasis>;
/**
 * What a standard with such a target and sample rests on.
 *
 * @example
 * colourBasis({ target: null, sample: { name: 'plate 3', keptAt: 'drawer 2' } }) // 'sample'
 */
export const colourBasis = ({
  target,
  sample,
}: {
  target: Lab | null;
  sample: ColourSample | null;
}): ColourBasis =>
  target === null ? (sample === null ? 'words' : 'sample') : sample === null ? 'lab' : 'lab-and-sample';

/** What was agreed, in one revision. CIELAB under its conditions. */
const colourFields = {
  name: Line(100),
  target: Lab.nullable(),
  light: Lab.nullable(),
  dark: Lab.nullable(),
  /** Null where there are no figures. */
  conditions: MeasuringConditions.nullable(),
  /** What the figures were read with, or the drawing they were taken from; empty where nobody wrote it down. */
  instrument: Text(100),
  tolerance: ColourTolerance.nullable(),
  sample: ColourSample.nullable(),
  grade: ColourGrade,
  /** Who of the customer agreed; empty for a standard of the shop's own. */
  agreedBy: Text(200),
  agreedOn: Day.nullable(),
  /** The last day it counts. Null: it does not run out. */
  expiresOn: Day.nullable(),
};

/** The colour a part asks for: what records and papers show of a standard, frozen where the record is. */
export const AgreedColour = z
  .object({
    /** Null where it was issued before standards were records. */
    standardId: Id.nullable(),
    revisionId: Id.nullable(),
    code: z.string(),
    revision: z.int().positive().nullable(),
    status: RevisionStatus.nullable(),
    ...colourFields,
    name: z.string(),
    /** Taken over from the free text of parts, and confirmed by nobody: nothing is promised by it. */
    unconfirmed: z.boolean(),
    basis: ColourBasis,
    sample: z.object({ name: z.string(), keptAt: z.string() }).nullable(),
  })
  .meta({ id: 'AgreedColour' });
export type AgreedColour = z.output<typeof AgreedColour>;

const code = z
  .string()
  .trim()
  .regex(/^[\p{L}\p{N}][\p{L}\p{N}._-]{0,19}$/u, 'must be 1 to 20 letters, digits, dots or dashes');

export const NewColourStandard = z
  .strictObject({
    code,
    /** Null: the shop's own. */
    customerId: Id.nullable(),
    ...colourFields,
    conditions: z.strictObject(MeasuringConditions.shape).nullable(),
    /** A photo of the sample or the piece. */
    photoId: Id.nullable(),
    notes: Text(4000),
    changeNote: Text(1000),
  })
  .superRefine((standard, context) => {
    const fault = (path: string, message: string) =>
      context.addIssue({ code: 'custom', path: path.split('.'), message });
    const { target, light, dark, conditions, tolerance, sample, grade } = standard;
    if (target === null) {
      for (const field of ['light', 'dark', 'conditions', 'tolerance'] as const)
        if (standard[field] !== null) fault(field, 'must be empty where there is no target in figures');
      if (standard.instrument.trim() !== '')
        fault('instrument', 'must be empty where there is no target in figures');
    } else {
      if (conditions === null) fault('conditions', 'must be given with figures');
      if (tolerance === null) fault('tolerance', 'must be given with figures');
      if (standard.instrument.trim() === '')
        fault('instrument', 'must name the instrument, or the drawing that the figures are from');
      if (light !== null && light.L <= target.L) fault('light.L', 'must be lighter than the target');
      if (dark !== null && dark.L >= target.L) fault('dark.L', 'must be darker than the target');
      if (tolerance?.from === 'ends' && light === null && dark === null)
        fault('tolerance.from', 'needs a light or a dark end');
    }
    if (grade === 'measured' && target === null) fault('grade', 'needs a target in figures');
    if (grade === 'compared' && sample === null) fault('grade', 'needs a sample to compare with');
    if (grade === 'photo' && standard.photoId === null) fault('grade', 'needs a photo');
    const { agreedOn, expiresOn } = standard;
    if (agreedOn !== null && expiresOn !== null && expiresOn < agreedOn)
      fault('expiresOn', 'must not be before the day it was agreed on');
  });
export type NewColourStandard = z.output<typeof NewColourStandard>;

/** A standard on a list, in one revision. */
export const ColourStandardItem = AgreedColour.extend({
  /** The key of the revision, as `revisionId`: lists know their rows by it. */
  id: Id,
  standardId: Id,
  revisionId: Id,
  revision: z.int().positive(),
  status: RevisionStatus,
  customer: CustomerRef.nullable(),
  /** Past its last day, in the shop's time zone. */
  expired: z.boolean(),
  /** Current revisions of parts that point to it. */
  partCount: z.int(),
  author: z.string(),
  createdAt: Instant,
  /** Null for a draft, and for what was taken over from parts. */
  approvedBy: z.string().nullable(),
  approvedAt: Instant.nullable(),
  /** Approved by one of its writers, because nobody else may approve. */
  selfApproved: z.boolean(),
  /** Where it was taken over from when standards became records of their own; empty for what was written here. */
  takenOverFrom: z.string(),
  version: Version,
}).meta({ id: 'ColourStandardItem' });
export type ColourStandardItem = z.output<typeof ColourStandardItem>;

/** One revision of a standard with the revisions beside it. */
export const ColourStandard = ColourStandardItem.extend({
  photo: StoredFile.nullable(),
  notes: z.string(),
  changeNote: z.string(),
  /** Everybody who wrote in it, the author first. None of them approves it where a second person may. */
  writers: z.array(z.object({ id: Id, displayName: z.string() })),
  endedAt: Instant.nullable(),
  /** Why it was retired. */
  endReason: z.string(),
  /** Who stands for what was taken over, and on what grounds; null for what was approved, and until somebody does. */
  confirmation: z.object({ by: z.string(), at: Instant, grounds: z.string() }).nullable(),
  revisions: z.array(
    z.object({ revisionId: Id, revision: z.int(), status: RevisionStatus, changeNote: z.string() }),
  ),
  parts: z.array(z.object({ id: Id, number: z.string(), revision: z.string(), customer: z.string() })),
}).meta({ id: 'ColourStandard' });
export type ColourStandard = z.output<typeof ColourStandard>;

const filters = {
  search: listQuery.search,
  /** Approved ones and drafts when not said. */
  status: z.enum([...RevisionStatus.options, 'unconfirmed', 'all']).optional(),
  /** Those of the customer and the shop's own. */
  customerId: PathId.optional(),
};

export const listColourStandards = defineQuery({
  name: 'listColourStandards',
  tags: ['catalog'],
  path: '/colour-standards',
  access: 'standards.read',
  summary: 'Colour standards by code; approved ones and drafts unless asked otherwise',
  query: { ...listQuery, ...filters },
  reply: page(ColourStandardItem),
});
export const exportColourStandards = defineQuery({
  name: 'exportColourStandards',
  tags: ['catalog'],
  path: '/colour-standards.csv',
  access: 'standards.read',
  summary: 'The list of colour standards as CSV',
  query: filters,
  reply: Csv,
});
export const getColourStandard = defineQuery({
  name: 'getColourStandard',
  tags: ['catalog'],
  path: '/colour-standards/:id',
  access: 'standards.read',
  summary: 'A colour standard: the revision asked for, else the one in force, else the newest',
  params: { id: PathId },
  query: { revision: z.coerce.number().int().positive().max(100_000).optional() },
  reply: ColourStandard,
});
export const createColourStandard = defineCommand({
  name: 'createColourStandard',
  tags: ['catalog'],
  path: '/colour-standards',
  access: 'standards.write',
  summary: 'Start a colour standard as a draft',
  body: NewColourStandard,
  reply: ColourStandard,
  status: 201,
});
const revision = { id: PathId };
export const updateColourStandard = defineCommand({
  name: 'updateColourStandard',
  tags: ['catalog'],
  method: 'PUT',
  path: '/colour-standard-revisions/:id',
  access: 'standards.write',
  summary: 'Write in a draft; whoever writes in it cannot approve it',
  params: revision,
  body: NewColourStandard,
  reply: ColourStandard,
  versioned: true,
});
export const reviseColourStandard = defineCommand({
  name: 'reviseColourStandard',
  tags: ['catalog'],
  path: '/colour-standards/:id/revisions',
  access: 'standards.write',
  summary: 'Start the next revision as a copy of the newest; a standard has one draft at a time',
  params: { id: PathId },
  body: z.strictObject({ changeNote: Line(1000) }),
  reply: ColourStandard,
  status: 201,
});
export const discardColourStandard = defineCommand({
  name: 'discardColourStandard',
  tags: ['catalog'],
  method: 'DELETE',
  path: '/colour-standard-revisions/:id',
  access: 'standards.write',
  summary: 'Discard a draft; the first draft of a standard that a part points to stays',
  params: revision,
  body: EmptyBody,
  reply: EmptyReply,
  versioned: true,
});
export const getColourStandardApproval = defineQuery({
  name: 'getColourStandardApproval',
  tags: ['catalog'],
  path: '/colour-standard-revisions/:id/approval',
  access: 'standards.approve',
  summary: 'Whether I may approve a draft of a colour standard, and as what',
  params: revision,
  reply: Approval,
});
export const approveColourStandard = defineCommand({
  name: 'approveColourStandard',
  tags: ['catalog'],
  path: '/colour-standard-revisions/:id/approve',
  access: 'standards.approve',
  summary:
    'Approve a draft that others wrote, or as its author where nobody else may; the revision approved before is superseded',
  params: revision,
  body: ApprovalBody,
  reply: ColourStandard,
  versioned: true,
  proof: 'signature',
});
export const confirmColourStandard = defineCommand({
  name: 'confirmColourStandard',
  tags: ['catalog'],
  path: '/colour-standard-revisions/:id/confirm',
  access: 'standards.approve',
  summary:
    'Confirm a standard that was taken over from parts: it is promised from then on, on the name of who signs',
  params: revision,
  body: z.strictObject({
    /** Who of the customer agreed, or the drawing or piece it was compared with. */
    grounds: Line(500),
  }),
  reply: ColourStandard,
  versioned: true,
  proof: 'signature',
});
export const retireColourStandard = defineCommand({
  name: 'retireColourStandard',
  tags: ['catalog'],
  path: '/colour-standard-revisions/:id/retire',
  access: 'standards.approve',
  summary: 'Retire the approved revision: nothing new is promised or judged by it',
  params: revision,
  body: z.strictObject({ reason: Line(500) }),
  reply: ColourStandard,
  versioned: true,
});
