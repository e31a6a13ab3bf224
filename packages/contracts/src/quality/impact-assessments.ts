import { z } from 'zod';
import { defineCommand, defineQuery } from '../kernel/http.ts';
import { Count, Csv, Day, Id, Line, listQuery, page, PathId, Pdf, Text } from '../kernel/scalars.ts';
import {
  AssessmentItem,
  AssessmentOffer,
  AssessmentState,
  Cause,
  ImpactAssessment,
  LetterFacts,
} from './impact-assessment-facts.ts';
import { LookBackSubject, TouchedLot } from './look-back.ts';
import { NewNonconformance } from './nonconformances.ts';

const params = { id: PathId };
const Lots = z.array(Id).min(1, 'must name at least one lot').max(500);
const asked = { about: LookBackSubject.optional(), from: Day.optional(), to: Day.optional() };

/** What an assessment would begin with: the answer of the look-back, or what the record offers. */
export const AssessmentSheet = z
  .object({
    about: LookBackSubject.nullable(),
    aboutName: z.string(),
    from: Day.nullable(),
    to: Day.nullable(),
    offer: AssessmentOffer.nullable(),
    totals: z.object({ lots: Count, customers: Count, shippedPieces: Count, certificates: Count }),
    /** The first of the lots that would be assessed. */
    lots: z.array(TouchedLot),
    owners: z.array(z.object({ id: Id, name: z.string() })),
    /** Open assessments of the same. */
    open: z.array(z.object({ id: Id, number: z.string() })),
  })
  .meta({ id: 'AssessmentSheet' });
export type AssessmentSheet = z.output<typeof AssessmentSheet>;

export const getAssessmentSheet = defineQuery({
  name: 'getAssessmentSheet',
  tags: ['quality'],
  path: '/impact-assessment-sheet',
  access: 'inspection.write',
  summary: 'What an impact assessment would begin with, before anybody types',
  searches: true,
  query: { ...asked, cause: Cause.optional() },
  reply: AssessmentSheet,
});
export const openAssessment = defineCommand({
  name: 'openAssessment',
  tags: ['quality'],
  path: '/impact-assessments',
  access: 'inspection.write',
  summary: 'Open an impact assessment: what was asked and what was found is frozen with it',
  body: z.strictObject({
    about: LookBackSubject.nullable(),
    from: Day.nullable(),
    to: Day.nullable(),
    /** The offer that it answers: what is asked comes from there. */
    cause: Cause.nullable(),
    reason: Line(2000),
    ownerId: Id,
    dueOn: Day,
  }),
  reply: ImpactAssessment,
  status: 201,
});

const filters = {
  search: listQuery.search,
  state: AssessmentState.optional(),
  lotId: PathId.optional(),
};
export const listAssessments = defineQuery({
  name: 'listAssessments',
  tags: ['quality'],
  path: '/impact-assessments',
  access: 'trace.read',
  summary: 'Impact assessments, the newest first',
  query: { after: listQuery.after, limit: listQuery.limit, ...filters },
  reply: page(AssessmentItem),
});
export const exportAssessments = defineQuery({
  name: 'exportAssessments',
  tags: ['quality'],
  path: '/impact-assessments.csv',
  access: 'trace.read',
  summary: 'Impact assessments as a CSV file',
  query: filters,
  reply: Csv,
});
export const getAssessment = defineQuery({
  name: 'getAssessment',
  tags: ['quality'],
  path: '/impact-assessments/:id',
  access: 'trace.read',
  summary: 'One impact assessment with its lots, judgements and letters',
  params,
  reply: ImpactAssessment,
});
export const exportAssessedLots = defineQuery({
  name: 'exportAssessedLots',
  tags: ['quality'],
  path: '/impact-assessments/:id/lots.csv',
  access: 'trace.read',
  summary: 'The lots of an impact assessment as a CSV file',
  params,
  reply: Csv,
});
export const assignAssessment = defineCommand({
  name: 'assignAssessment',
  tags: ['quality'],
  path: '/impact-assessments/:id/assignment',
  access: 'inspection.write',
  summary: 'Give an open impact assessment to somebody, or another day, with the reason',
  params,
  body: z.strictObject({ ownerId: Id, dueOn: Day, reason: Line(500) }),
  reply: ImpactAssessment,
});
export const addAssessmentLot = defineCommand({
  name: 'addAssessmentLot',
  tags: ['quality'],
  path: '/impact-assessments/:id/lots',
  access: 'inspection.write',
  summary: 'Bring a lot under assessment that the look-back did not find, with the reason',
  params,
  body: z.strictObject({ lotNumber: Line(60), why: Line(1000) }),
  reply: ImpactAssessment,
  status: 201,
});
export const judgeLots = defineCommand({
  name: 'judgeLots',
  tags: ['quality'],
  path: '/impact-assessments/:id/judgements',
  access: 'inspection.write',
  summary: 'Judge lots affected or not affected, with the reason',
  params,
  body: z.strictObject({ lotIds: Lots, affected: z.boolean(), text: Line(2000) }),
  reply: ImpactAssessment,
  status: 201,
});
export const holdAssessedLots = defineCommand({
  name: 'holdAssessedLots',
  tags: ['quality'],
  path: '/impact-assessments/:id/holds',
  access: 'inspection.write',
  summary: 'Put lots under assessment on hold, all of them or none',
  params,
  body: z.strictObject({ lotIds: Lots, reason: Line(400) }),
  reply: ImpactAssessment,
  status: 201,
});
export const openAssessedNonconformance = defineCommand({
  name: 'openAssessedNonconformance',
  tags: ['quality'],
  path: '/impact-assessments/:id/nonconformances',
  access: 'inspection.write',
  summary: 'Open a nonconformance of a lot under assessment',
  params,
  body: z.strictObject({ lotId: Id, found: NewNonconformance }),
  reply: z.object({ id: Id, number: z.string() }),
  status: 201,
});

export const LetterSheet = z
  .object({ facts: LetterFacts, found: z.string(), asked: z.string(), contacts: z.array(z.string()) })
  .meta({ id: 'LetterSheet' });
export type LetterSheet = z.output<typeof LetterSheet>;
export const getLetterSheet = defineQuery({
  name: 'getLetterSheet',
  tags: ['quality'],
  path: '/impact-assessments/:id/letter-sheet',
  access: 'inspection.write',
  summary: 'What a letter to an affected customer would say, with words to begin from',
  params,
  query: { customerId: PathId },
  reply: LetterSheet,
});
export const issueLetter = defineCommand({
  name: 'issueLetter',
  tags: ['quality'],
  path: '/impact-assessments/:id/letters',
  access: 'inspection.write',
  summary: 'Sign a letter to an affected customer; its paper is frozen with it',
  params,
  body: z.strictObject({
    customerId: Id,
    attention: Text(200),
    found: Line(4000),
    asked: Line(4000),
    jobTitle: Line(100),
  }),
  reply: ImpactAssessment,
  status: 201,
  proof: 'signature',
});
export const printLetter = defineQuery({
  name: 'printLetter',
  tags: ['quality'],
  path: '/customer-letters/:id/pdf',
  access: 'trace.read',
  summary: 'A letter to a customer as a PDF: the same bytes for ever',
  params,
  reply: Pdf,
});
export const stateNoLetter = defineCommand({
  name: 'stateNoLetter',
  tags: ['quality'],
  path: '/impact-assessments/:id/no-letters',
  access: 'inspection.write',
  summary: 'Say why an affected customer gets no letter',
  params,
  body: z.strictObject({ customerId: Id, reason: Line(1000) }),
  reply: ImpactAssessment,
  status: 201,
});
export const closeAssessment = defineCommand({
  name: 'closeAssessment',
  tags: ['quality'],
  path: '/impact-assessments/:id/close',
  access: 'inspection.write',
  summary: 'Close an impact assessment once every lot is judged and every affected customer is told',
  params,
  body: z.strictObject({ text: Line(2000) }),
  reply: ImpactAssessment,
  proof: 'signature',
});

export const listAssessmentOffers = defineQuery({
  name: 'listAssessmentOffers',
  tags: ['quality'],
  path: '/assessment-offers',
  access: 'inspection.write',
  summary: 'What in the record calls for an impact assessment',
  reply: z.object({ items: z.array(AssessmentOffer) }),
});
export const dismissAssessmentOffer = defineCommand({
  name: 'dismissAssessmentOffer',
  tags: ['quality'],
  path: '/assessment-offers/:cause/dismissal',
  access: 'inspection.write',
  summary: 'Say why what is offered needs no impact assessment',
  params: { cause: Cause },
  body: z.strictObject({ reason: Line(1000) }),
  reply: z.object({ items: z.array(AssessmentOffer) }),
});
