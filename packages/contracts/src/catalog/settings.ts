import { z } from 'zod';
import { Currency } from '../kernel/currencies.ts';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import { Me, Password, SignInName, TimeZone } from '../core/people.ts';
import { Line, SystemOfUnits, Text, Version } from '../kernel/scalars.ts';

const shopFields = {
  name: Line(200),
  address: Text(600),
  contact: Text(300),
  timeZone: TimeZone,
  currency: Currency,
  /** Units on travelers, and on the papers of customers who have none of their own. */
  units: SystemOfUnits,
  quotationValidityDays: z.int().min(1).max(730),
  leadTimeDays: z.int().min(0).max(730),
  terms: Text(8000),
  /** How long records are kept before anything may be thrown away. */
  retentionYears: z.int().min(1).max(100),
};
export const Shop = z
  .object({ ...shopFields, name: z.string(), timeZone: z.string(), currency: z.string(), version: Version })
  .meta({ id: 'Shop' });
export type Shop = z.output<typeof Shop>;

export const getShop = defineQuery({
  name: 'getShop',
  tags: ['catalog'],
  path: '/shop',
  access: 'signed-in',
  summary: 'The shop: what is printed on its documents, and its defaults',
  reply: Shop,
});
export const updateShop = defineCommand({
  name: 'updateShop',
  tags: ['catalog'],
  method: 'PUT',
  path: '/shop',
  access: 'setup.write',
  summary: 'Change the facts of the shop',
  body: z.strictObject(shopFields),
  reply: Shop,
  versioned: true,
});

export const NumberedKind = z.enum([
  'customer',
  'enquiry',
  'quotation',
  'order',
  'lot',
  'traveler',
  'recipe',
  'bath',
  'shipment',
  'certificate',
  'delivery-note',
  'invoice',
  'credit-note',
  'nonconformance',
  'impact-assessment',
  'customer-letter',
  'analysis',
  'addition',
  'trial-run',
  'polarization-scan',
  'film-measurement',
  'exposure-test',
]);
export type NumberedKind = z.output<typeof NumberedKind>;

export const NumberSeries = z
  .object({
    kind: NumberedKind,
    prefix: z.string(),
    digits: z.int(),
    next: z.int(),
    /** The number the next record gets. */
    sample: z.string(),
  })
  .meta({ id: 'NumberSeries' });
export type NumberSeries = z.output<typeof NumberSeries>;

export const listNumberSeries = defineQuery({
  name: 'listNumberSeries',
  tags: ['catalog'],
  path: '/number-series',
  access: 'setup.write',
  summary: 'How records are numbered',
  reply: z.object({ items: z.array(NumberSeries) }),
});
export const updateNumberSeries = defineCommand({
  name: 'updateNumberSeries',
  tags: ['catalog'],
  method: 'PUT',
  path: '/number-series/:kind',
  access: 'setup.write',
  summary: 'Change prefix, digits or the next number, which may only rise',
  params: { kind: NumberedKind },
  body: z.strictObject({
    prefix: z
      .string()
      .trim()
      .regex(
        /^[\p{Lu}\d]*[\p{Lu}./-]$/u,
        'must be capital letters or digits, ending in a letter, a dash, a dot or a slash',
      )
      .max(10),
    digits: z.int().min(1).max(9),
    next: z.int().min(1).max(1_000_000_000),
  }),
  reply: NumberSeries,
});

/** Whether an author may approve where the shop has nobody else who may. */
export const ApprovalRules = z
  .object({ selfApproval: z.boolean(), version: Version })
  .meta({ id: 'ApprovalRules' });
export type ApprovalRules = z.output<typeof ApprovalRules>;
export const getApprovalRules = defineQuery({
  name: 'getApprovalRules',
  tags: ['catalog'],
  path: '/approval-rules',
  access: 'signed-in',
  summary: 'Whether an author may approve where nobody else may',
  reply: ApprovalRules,
});
export const updateApprovalRules = defineCommand({
  name: 'updateApprovalRules',
  tags: ['catalog'],
  method: 'PUT',
  path: '/approval-rules',
  access: 'setup.write',
  summary: 'Allow or forbid that an author approves where nobody else may',
  body: z.strictObject({ selfApproval: z.boolean() }),
  reply: ApprovalRules,
  versioned: true,
  proof: 'signature',
});

export const createFirstAdmin = defineCommand({
  name: 'createFirstAdmin',
  tags: ['catalog'],
  path: '/first-admin',
  access: 'anyone',
  summary: 'Create the first owner with the one-time code from the console',
  body: z.strictObject({
    code: z.string().trim().min(1).max(200),
    name: SignInName,
    displayName: Line(100),
    password: Password,
    shopName: Line(200),
    timeZone: TimeZone,
    currency: Currency,
  }),
  reply: Me,
  status: 201,
  keyless: 'opens a sign-in',
  problems: ['wrong-credentials'],
});
