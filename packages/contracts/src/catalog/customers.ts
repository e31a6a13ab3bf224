import { z } from 'zod';
import { EmptyBody, defineQuery, defineCommand } from '../kernel/http.ts';
import { Currency } from '../kernel/currencies.ts';
import {
  Archived,
  Count,
  Csv,
  Id,
  Instant,
  Line,
  PathId,
  Percent,
  Text,
  Version,
  listQuery,
  page,
} from '../kernel/scalars.ts';

/** Units on the papers for a customer; `shop` are those the shop prints in. */
export const PaperUnits = z.enum(['shop', 'metric', 'us']);
export type PaperUnits = z.output<typeof PaperUnits>;

export const AddressKind = z.enum(['billing', 'delivery', 'other']);
export type AddressKind = z.output<typeof AddressKind>;

/** Why no tax is added to what a customer pays; nothing where tax is added, or nobody said. */
export const NoTaxReason = z.enum([
  '',
  'zero-rated',
  'exempt',
  'reverse-charge',
  'export',
  'intra-community',
]);
export type NoTaxReason = z.output<typeof NoTaxReason>;
/** Two capital letters of ISO 3166-1, or nothing. */
export const CountryCode = z
  .string()
  .regex(/^([A-Z]{2})?$/, 'must be a code of two letters like AT (ISO 3166-1), or empty');
/** Days an invoice may take to be paid. */
export const PaymentDays = z.int().min(0).max(365);

const Contact = z.strictObject({
  name: Line(120),
  role: Text(120),
  email: z.union([z.email('must be an address like ann@example.com').max(200), z.literal('')]),
  phone: Text(60),
});
const Address = z.strictObject({ kind: AddressKind, lines: Text(600).trim().min(1, 'must not be empty') });

/** How other records name a customer. */
export const CustomerRef = z.object({ id: Id, number: z.string(), name: z.string() });
export type CustomerRef = z.output<typeof CustomerRef>;

export const Customer = z
  .object({
    id: Id,
    number: z.string(),
    name: z.string(),
    currency: z.string(),
    units: PaperUnits,
    taxNumber: z.string(),
    /** What is added to a price for this customer; 0 where the customer accounts for the tax. */
    taxRatePercent: Percent,
    noTaxReason: NoTaxReason,
    country: z.string(),
    /** Null as the shop has it. */
    paymentDays: z.int().nullable(),
    /** Terms of payment and delivery that go on quotations unless changed there. */
    terms: z.string(),
    notes: z.string(),
    contacts: z.array(z.object({ name: z.string(), role: z.string(), email: z.string(), phone: z.string() })),
    addresses: z.array(z.object({ kind: AddressKind, lines: z.string() })),
    /** How many records belong to the customer. */
    partCount: Count,
    enquiryCount: Count,
    quotationCount: Count,
    orderCount: Count,
    archivedAt: Instant.nullable(),
    /** The customer that took this one's place when duplicates were merged. */
    mergedInto: CustomerRef.nullable(),
    createdAt: Instant,
    version: Version,
  })
  .meta({ id: 'Customer' });
export type Customer = z.output<typeof Customer>;

export const CustomerItem = z.object({
  id: Id,
  number: z.string(),
  name: z.string(),
  currency: z.string(),
  contactName: z.string(),
  email: z.string(),
  phone: z.string(),
  partCount: Count,
  openOrderCount: Count,
  archived: z.boolean(),
  createdAt: Instant,
});
export type CustomerItem = z.output<typeof CustomerItem>;

/** What is typed about a customer. */
export const CustomerFacts = z.strictObject({
  name: Line(200),
  currency: Currency,
  units: PaperUnits.default('shop'),
  taxNumber: Text(60),
  taxRatePercent: Percent,
  noTaxReason: NoTaxReason.default(''),
  country: CountryCode.default(''),
  paymentDays: PaymentDays.nullable().default(null),
  terms: Text(),
  notes: Text(),
  contacts: z.array(Contact).max(50),
  addresses: z.array(Address).max(20),
});
export type CustomerFacts = z.output<typeof CustomerFacts>;

const filters = {
  search: listQuery.search,
  archived: Archived.optional(),
  sort: z.enum(['name', '-name', 'number', '-number', 'createdAt', '-createdAt']).optional(),
};

export const listCustomers = defineQuery({
  name: 'listCustomers',
  tags: ['catalog'],
  path: '/customers',
  access: 'customers.read',
  summary: 'Customers, searched by name, number, contact or e-mail',
  query: { ...listQuery, ...filters },
  reply: page(CustomerItem),
});
export const exportCustomers = defineQuery({
  name: 'exportCustomers',
  tags: ['catalog'],
  path: '/customers.csv',
  access: 'customers.read',
  summary: 'The list of customers as CSV',
  query: filters,
  reply: Csv,
});
export const getCustomer = defineQuery({
  name: 'getCustomer',
  tags: ['catalog'],
  path: '/customers/:id',
  access: 'customers.read',
  summary: 'One customer',
  params: { id: PathId },
  reply: Customer,
});
export const createCustomer = defineCommand({
  name: 'createCustomer',
  tags: ['catalog'],
  path: '/customers',
  access: 'customers.write',
  summary: 'Add a customer',
  body: CustomerFacts,
  reply: Customer,
  status: 201,
});
export const updateCustomer = defineCommand({
  name: 'updateCustomer',
  tags: ['catalog'],
  method: 'PUT',
  path: '/customers/:id',
  access: 'customers.write',
  summary: 'Change what is known about a customer',
  params: { id: PathId },
  body: CustomerFacts,
  reply: Customer,
  versioned: true,
});
export const archiveCustomer = defineCommand({
  name: 'archiveCustomer',
  tags: ['catalog'],
  path: '/customers/:id/archive',
  access: 'customers.write',
  summary: 'Take a customer off the lists; nothing is deleted',
  params: { id: PathId },
  body: EmptyBody,
  reply: Customer,
});
export const unarchiveCustomer = defineCommand({
  name: 'unarchiveCustomer',
  tags: ['catalog'],
  path: '/customers/:id/unarchive',
  access: 'customers.write',
  summary: 'Put an archived customer back on the lists',
  params: { id: PathId },
  body: EmptyBody,
  reply: Customer,
});
export const mergeCustomer = defineCommand({
  name: 'mergeCustomer',
  tags: ['catalog'],
  path: '/customers/:id/merge',
  access: 'customers.write',
  summary: 'Move parts, quotations and orders of a duplicate to the customer that stays',
  params: { id: PathId },
  body: z.strictObject({ intoId: Id, reason: Line(500) }),
  /** The customer that stays. */
  reply: Customer,
  versioned: true,
});
