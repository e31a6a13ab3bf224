import { z } from 'zod';
import { reading, writing } from './http.ts';
import { Currency, TimeZone } from './people.ts';
import { Line, Text, Version } from './scalars.ts';

const shopFields = {
  name: Line(200),
  address: Text(600),
  contact: Text(300),
  timeZone: TimeZone,
  currency: Currency,
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

export const getShop = reading({
  path: '/shop',
  access: 'signed-in',
  summary: 'The shop: what stands on its documents, and its defaults',
  reply: Shop,
});
export const updateShop = writing({
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
  'quotation',
  'order',
  'lot',
  'traveler',
  'recipe',
  'bath',
  'shipment',
  'analysis',
  'addition',
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

export const listNumberSeries = reading({
  path: '/number-series',
  access: 'setup.write',
  summary: 'How records are numbered',
  reply: z.object({ items: z.array(NumberSeries) }),
});
export const updateNumberSeries = writing({
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
