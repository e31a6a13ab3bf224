import { z } from 'zod';
import { BaseMetal } from '../catalog/base-metals.ts';
import { AgreedColour } from '../catalog/colour-standards.ts';
import { CustomerRef } from '../catalog/customers.ts';
import { RevisionStatus } from '../core/approvals.ts';
import { StoredFile } from '../core/files.ts';
import { defineCommand, defineQuery } from '../kernel/http.ts';
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
  Text,
  Version,
} from '../kernel/scalars.ts';

/** open -> a trial was asked for -> answered by a quotation, or declined; a declined one is opened again with a reason. */
export const EnquiryStatus = z.enum(['open', 'trial-asked', 'quoted', 'declined']);
export type EnquiryStatus = z.output<typeof EnquiryStatus>;

/** Days after which an enquiry without an answer stands on Today (house rule, no source). */
export const ENQUIRY_ANSWER_DAYS = 3;

/** A piece that the customer lent: it goes back. */
export const BorrowedSample = z.strictObject({
  name: Line(300),
  keptAt: Text(300),
  /** The day it must be back; null where none was said. */
  dueBackOn: Day.nullable(),
  returnedOn: Day.nullable(),
});
export type BorrowedSample = z.output<typeof BorrowedSample>;

const facts = {
  /** Null while there is no record of the customer: then the name says who asks. */
  customerId: Id.nullable(),
  customerName: Text(200),
  contact: Text(200),
  /** What they ask, in their words. */
  words: Line(4000),
  colourName: Text(100),
  colour: Lab.nullable(),
  colourStandardId: Id.nullable(),
  baseMetal: BaseMetal.nullable(),
  materialId: Id.nullable(),
  quantity: z.int().min(1).max(1_000_000).nullable(),
  dueOn: Day.nullable(),
  sample: BorrowedSample.nullable(),
  pictureIds: z.array(Id).max(20),
  /** Who of the shop answers it. */
  ownerId: Id,
};

export const NewEnquiry = z.strictObject(facts).superRefine((enquiry, context) => {
  const fault = (path: string, message: string) =>
    context.addIssue({ code: 'custom', path: [path], message });
  const named = enquiry.customerName.trim() !== '';
  if (enquiry.customerId === null && !named)
    fault('customerName', 'must say who asks, where no customer is chosen');
  if (enquiry.customerId !== null && named) fault('customerName', 'must be empty where a customer is chosen');
  enquiry.pictureIds.forEach((id, index) => {
    if (enquiry.pictureIds.indexOf(id) !== index)
      context.addIssue({ code: 'custom', path: ['pictureIds', index], message: 'is listed twice' });
  });
});
export type NewEnquiry = z.output<typeof NewEnquiry>;

const Person = z.object({ id: Id, displayName: z.string() });

/** What became of an enquiry, and why. It stands for ever. */
export const EnquiryDecision = z.object({
  id: Id,
  status: EnquiryStatus,
  reason: z.string(),
  /** The record that it led to: a quotation or a coupon series. */
  record: z.string(),
  by: z.string(),
  at: Instant,
});

export const Enquiry = z
  .object({
    id: Id,
    number: z.string(),
    status: EnquiryStatus,
    customer: CustomerRef.nullable(),
    customerName: z.string(),
    contact: z.string(),
    words: z.string(),
    colourName: z.string(),
    colour: Lab.nullable(),
    standard: AgreedColour.nullable(),
    baseMetal: BaseMetal.nullable(),
    material: z.object({ id: Id, name: z.string(), condition: z.string(), baseMetal: BaseMetal }).nullable(),
    quantity: z.int().nullable(),
    dueOn: Day.nullable(),
    sample: BorrowedSample.nullable(),
    pictures: z.array(StoredFile),
    owner: Person,
    /** Coupons that try it. */
    series: z
      .object({ id: Id, code: z.string(), revision: z.int(), name: z.string(), status: RevisionStatus })
      .nullable(),
    quotation: z.object({ id: Id, number: z.string() }).nullable(),
    /** Newest first. */
    decisions: z.array(EnquiryDecision),
    createdBy: z.string(),
    createdAt: Instant,
    version: Version,
  })
  .meta({ id: 'Enquiry' });
export type Enquiry = z.output<typeof Enquiry>;

export const EnquiryItem = z.object({
  id: Id,
  number: z.string(),
  status: EnquiryStatus,
  customer: z.string(),
  words: z.string(),
  colourName: z.string(),
  /** Of the standard where figures were not given. */
  colour: Lab.nullable(),
  metal: z.string(),
  quantity: z.int().nullable(),
  dueOn: Day.nullable(),
  /** A borrowed sample that is not back yet. */
  sampleDueOn: Day.nullable(),
  owner: z.string(),
  quotation: z.string().nullable(),
  /** Of a declined one. */
  reason: z.string(),
  createdAt: Instant,
});
export type EnquiryItem = z.output<typeof EnquiryItem>;

const filters = {
  search: listQuery.search,
  status: EnquiryStatus.optional(),
  customerId: PathId.optional(),
  ownerId: PathId.optional(),
  sort: z.enum(['createdAt', '-createdAt', 'due', '-due']).optional(),
};

export const listEnquiries = defineQuery({
  name: 'listEnquiries',
  tags: ['sales'],
  path: '/enquiries',
  access: 'enquiries.read',
  summary: 'Enquiries, newest first unless asked otherwise',
  query: { ...listQuery, ...filters },
  reply: page(EnquiryItem),
});
export const exportEnquiries = defineQuery({
  name: 'exportEnquiries',
  tags: ['sales'],
  path: '/enquiries.csv',
  access: 'enquiries.read',
  summary: 'The list of enquiries as CSV',
  query: filters,
  reply: Csv,
});
export const getEnquiry = defineQuery({
  name: 'getEnquiry',
  tags: ['sales'],
  path: '/enquiries/:id',
  access: 'enquiries.read',
  summary: 'One enquiry',
  params: { id: PathId },
  reply: Enquiry,
});
export const createEnquiry = defineCommand({
  name: 'createEnquiry',
  tags: ['sales'],
  path: '/enquiries',
  access: 'enquiries.write',
  summary: 'Write down what somebody asks for',
  body: NewEnquiry,
  reply: Enquiry,
  status: 201,
});
export const updateEnquiry = defineCommand({
  name: 'updateEnquiry',
  tags: ['sales'],
  method: 'PUT',
  path: '/enquiries/:id',
  access: 'enquiries.write',
  summary: 'Change what is known of an enquiry; what became of it stays',
  params: { id: PathId },
  body: NewEnquiry,
  reply: Enquiry,
  versioned: true,
});
export const askTrial = defineCommand({
  name: 'askTrial',
  tags: ['sales'],
  path: '/enquiries/:id/trial',
  access: 'enquiries.write',
  summary: 'Mark that the lab is asked for a trial, on a draft of a coupon series where there is one',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500), seriesId: Id.nullable() }),
  reply: Enquiry,
  versioned: true,
});
export const linkTrialSeries = defineCommand({
  name: 'linkTrialSeries',
  tags: ['sales'],
  path: '/enquiries/:id/trial/series',
  access: 'coupons.write',
  summary: 'Say which coupon series tries what an enquiry asks for',
  params: { id: PathId },
  body: z.strictObject({ seriesId: Id }),
  reply: Enquiry,
  versioned: true,
});
export const declineEnquiry = defineCommand({
  name: 'declineEnquiry',
  tags: ['sales'],
  path: '/enquiries/:id/decline',
  access: 'enquiries.write',
  summary: 'Decline an enquiry with a reason, which stays',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: Enquiry,
  versioned: true,
});
export const reopenEnquiry = defineCommand({
  name: 'reopenEnquiry',
  tags: ['sales'],
  path: '/enquiries/:id/reopen',
  access: 'enquiries.write',
  summary: 'Open a declined enquiry again, with a reason',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: Enquiry,
  versioned: true,
});
export const listEnquiryOwners = defineQuery({
  name: 'listEnquiryOwners',
  tags: ['sales'],
  path: '/enquiry-owners',
  access: 'enquiries.read',
  summary: 'People who can answer enquiries',
  reply: z.object({ items: z.array(Person) }),
});
