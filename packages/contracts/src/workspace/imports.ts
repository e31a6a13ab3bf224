import { z } from 'zod';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import type { ImportKind } from './import-fields.ts';
import { PageRef } from './pages.ts';
import type { Permission } from '../kernel/permissions.ts';
import { Csv, Instant, isStorable, Line, unstorable } from '../kernel/scalars.ts';

/** A table from a file or a spreadsheet, and which column holds what. */
export const ImportBody = z.strictObject({
  text: z
    .string()
    .min(1, 'must not be empty')
    .max(1_500_000, 'must be at most 1.5 million characters: import it in parts')
    .refine(isStorable, unstorable),
  separator: z.enum(['comma', 'semicolon', 'tab']),
  decimal: z.enum(['point', 'comma']),
  /** Columns by their heads; a column that is not named is left out. The unit is that of the figures in it. */
  columns: z
    .array(z.strictObject({ column: Line(200), field: Line(40), unit: z.string().max(20).nullable() }))
    .min(1, 'match at least one column')
    .max(60),
  /** Leave out lines whose record is there already; otherwise they are faults. */
  leaveOutKnown: z.boolean(),
});
export type ImportBody = z.output<typeof ImportBody>;

/** What a table would bring; `line` counts from 1, the heads of the columns. */
export const ImportPreview = z
  .object({
    /** Lines below the heads, records that would be added, and lines left out because theirs is there. */
    lines: z.int(),
    records: z.int(),
    known: z.array(z.object({ line: z.int(), name: z.string(), page: PageRef })),
    knownCount: z.int(),
    /** The first fifty records, as they would be stored: the cells of the fields that are matched. */
    sample: z.array(z.object({ line: z.int(), name: z.string(), cells: z.record(z.string(), z.string()) })),
    /** The first two hundred; while there are any, nothing is imported. */
    faults: z.array(z.object({ line: z.int(), column: z.string(), message: z.string() })),
    faultCount: z.int(),
    /** When this very file was imported before. */
    sameFile: z.object({ at: Instant, by: z.string(), records: z.int() }).nullable(),
  })
  .meta({ id: 'ImportPreview' });
export type ImportPreview = z.output<typeof ImportPreview>;

interface ImportOf {
  name: string;
  kind: ImportKind;
  access: Permission;
}
const previewOf = ({ name, kind, access }: ImportOf) =>
  defineCommand({
    name,
    tags: ['workspace'],
    path: `/imports/${kind}/preview`,
    access,
    summary: `Read a table of ${kind} without storing anything`,
    body: ImportBody,
    reply: ImportPreview,
    keyless: 'works out only',
  });
const importOf = ({ name, kind, access }: ImportOf) =>
  defineCommand({
    name,
    tags: ['workspace'],
    path: `/imports/${kind}`,
    access,
    summary: `Store a table of ${kind}, all of it or nothing`,
    body: ImportBody,
    reply: z.object({ records: z.int(), leftOut: z.int() }),
    status: 201,
  });
const templateOf = ({ name, kind, access }: ImportOf) =>
  defineQuery({
    name,
    tags: ['workspace'],
    path: `/imports/${kind}/template.csv`,
    access,
    summary: `A CSV file of ${kind} to fill in`,
    reply: Csv,
  });

export const previewCustomerImport = previewOf({
  name: 'previewCustomerImport',
  kind: 'customers',
  access: 'customers.write',
});
export const importCustomers = importOf({
  name: 'importCustomers',
  kind: 'customers',
  access: 'customers.write',
});
export const getCustomerTemplate = templateOf({
  name: 'getCustomerTemplate',
  kind: 'customers',
  access: 'customers.write',
});
export const previewPartImport = previewOf({
  name: 'previewPartImport',
  kind: 'parts',
  access: 'parts.write',
});
export const importParts = importOf({ name: 'importParts', kind: 'parts', access: 'parts.write' });
export const getPartTemplate = templateOf({ name: 'getPartTemplate', kind: 'parts', access: 'parts.write' });
export const previewMaterialImport = previewOf({
  name: 'previewMaterialImport',
  kind: 'materials',
  access: 'materials.write',
});
export const importMaterials = importOf({
  name: 'importMaterials',
  kind: 'materials',
  access: 'materials.write',
});
export const getMaterialTemplate = templateOf({
  name: 'getMaterialTemplate',
  kind: 'materials',
  access: 'materials.write',
});
export const previewChemicalImport = previewOf({
  name: 'previewChemicalImport',
  kind: 'chemicals',
  access: 'lab.write',
});
export const importChemicals = importOf({ name: 'importChemicals', kind: 'chemicals', access: 'lab.write' });
export const getChemicalTemplate = templateOf({
  name: 'getChemicalTemplate',
  kind: 'chemicals',
  access: 'lab.write',
});

/** The endpoints of each kind of table. */
export const importEndpoints = {
  customers: { preview: previewCustomerImport, run: importCustomers, template: getCustomerTemplate },
  parts: { preview: previewPartImport, run: importParts, template: getPartTemplate },
  materials: { preview: previewMaterialImport, run: importMaterials, template: getMaterialTemplate },
  chemicals: { preview: previewChemicalImport, run: importChemicals, template: getChemicalTemplate },
} as const satisfies Record<ImportKind, object>;
