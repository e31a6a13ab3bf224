import { z } from 'zod';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import { Evidence } from '../catalog/materials.ts';
import { Count } from '../kernel/scalars.ts';
import { PageRef } from './pages.ts';

/** The starter sets that a new shop takes what fits from. */
export const StarterSetKey = z.enum([
  'materials',
  'tanks',
  'supplies',
  'racks',
  'rates',
  'recipes',
  'chemicals',
]);
export type StarterSetKey = z.output<typeof StarterSetKey>;

/** Where one thing that a shop needs is entered, written or looked over. */
export const SetUpPage = z.enum([
  'shop',
  'materials',
  'newTank',
  'newSupply',
  'newRack',
  'newRates',
  'newRecipe',
  'recipeDrafts',
  'newPerson',
  'newCustomer',
  'newPart',
  'newQuotation',
  'quotations',
  'newBath',
  'newChemical',
  'methods',
]);
export type SetUpPage = z.output<typeof SetUpPage>;

/** One thing a shop needs before its first quotation, or soon after it. */
export const SetUpItem = z.object({
  key: z.string(),
  title: z.string(),
  /** What is there, or what it is for. */
  detail: z.string(),
  done: z.boolean(),
  /** Whether the first quotation waits for it. */
  needed: z.boolean(),
  /** Where it is done by hand. */
  page: SetUpPage,
  verb: z.string(),
  /** What can be taken over for it. */
  starterSet: StarterSetKey.nullable(),
});
export type SetUpItem = z.output<typeof SetUpItem>;

export const GettingStarted = z
  .object({
    items: z.array(SetUpItem),
    /** How many the first quotation still waits for; none once a quotation was sent. */
    missing: Count,
    needed: Count,
  })
  .meta({ id: 'GettingStarted' });
export type GettingStarted = z.output<typeof GettingStarted>;

/** What a figure of a starter measures, under the names that pages show quantities by. */
export const StarterQuantity = z.enum([
  'equipmentLength',
  'volume',
  'metalDensity',
  'voltage',
  'current',
  'currentDensity',
  'mass',
  'power',
  'temperature',
  'duration',
  'massFraction',
  'share',
]);

export const StarterRow = z.object({
  key: z.string(),
  name: z.string(),
  detail: z.string(),
  figures: z.array(z.object({ label: z.string(), quantity: StarterQuantity.nullable(), value: z.number() })),
  source: z.string(),
  evidence: Evidence,
  /** The record that has its place already. */
  there: z.object({ name: z.string(), page: PageRef }).nullable(),
});
export type StarterRow = z.output<typeof StarterRow>;
export const StarterSet = z
  .object({
    key: StarterSetKey,
    title: z.string(),
    /** What the set is, and what it is not. */
    lead: z.string(),
    rows: z.array(StarterRow),
  })
  .meta({ id: 'StarterSet' });
export type StarterSet = z.output<typeof StarterSet>;

export const getGettingStarted = defineQuery({
  name: 'getGettingStarted',
  tags: ['workspace'],
  path: '/getting-started',
  access: 'setup.write',
  summary: 'What a new shop still lacks for its first quotation',
  reply: GettingStarted,
});
export const getStarterSet = defineQuery({
  name: 'getStarterSet',
  tags: ['workspace'],
  path: '/starter-sets/:set',
  access: 'setup.write',
  summary: 'A starter set, with what of it is there already',
  params: { set: StarterSetKey },
  reply: StarterSet,
});
export const adoptStarterSet = defineCommand({
  name: 'adoptStarterSet',
  tags: ['workspace'],
  path: '/starter-sets/:set/adopt',
  access: 'setup.write',
  summary: 'Create the chosen rows of a starter set; what is there already is left as it is',
  params: { set: StarterSetKey },
  body: z.strictObject({ keys: z.array(z.string().min(1).max(60)).min(1, 'choose at least one').max(100) }),
  reply: z.object({
    added: z.array(z.object({ key: z.string(), name: z.string(), page: PageRef })),
    kept: z.array(z.object({ key: z.string(), name: z.string(), page: PageRef })),
  }),
});
