import { z } from 'zod';
import { AnalysisResult } from './analysis-records.ts';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import { ComponentKey, ComponentUnit, TemperatureC } from './lab-scalars.ts';
import { Csv, Instant, isStorable, Line, PathId, Quantity, unstorable } from '../kernel/scalars.ts';

/** Which column of a notebook holds what. */
export const NotebookMapping = z.strictObject({
  /** The column with the day, or the day and the time, of the sample. */
  sampledAt: Line(100),
  /** How days are written in it. */
  dayOrder: z.enum(['year-month-day', 'day-month-year', 'month-day-year']),
  decimal: z.enum(['point', 'comma']),
  separator: z.enum(['comma', 'semicolon', 'tab']),
  /** Columns with the analyst and with remarks; null where there are none. */
  analyst: Line(100).nullable(),
  notes: Line(100).nullable(),
  values: z
    .array(
      z.strictObject({
        column: Line(100),
        component: ComponentKey,
        unit: ComponentUnit,
        /** Written in per cent, it is divided by 100. */
        isPercent: z.boolean(),
        referenceTemperatureC: TemperatureC.nullable(),
        standardUncertainty: Quantity(1e6).nullable(),
      }),
    )
    .min(1)
    .max(12),
});
export type NotebookMapping = z.output<typeof NotebookMapping>;

const body = z.strictObject({
  csv: z
    .string()
    .min(1, 'must not be empty')
    .max(1_500_000, 'must be at most 1.5 million characters: import it in parts')
    .refine(isStorable, unstorable),
  mapping: NotebookMapping,
});

/** A fault of one cell; `line` counts from 1, the heads of the columns. */
export const NotebookFault = z.object({ line: z.int(), column: z.string(), message: z.string() });
export const NotebookPreview = z
  .object({
    columns: z.array(z.string()),
    rows: z.int(),
    /** The first fifty, as they would be stored. */
    sample: z.array(
      z.object({
        line: z.int(),
        sampledAt: Instant,
        analyst: z.string(),
        results: z.array(AnalysisResult.pick({ component: true, value: true, unit: true, state: true })),
        notes: z.string(),
      }),
    ),
    /** The first two hundred; while there are any, nothing is imported. */
    faults: z.array(NotebookFault),
    faultCount: z.int(),
  })
  .meta({ id: 'NotebookPreview' });
export type NotebookPreview = z.output<typeof NotebookPreview>;

export const getNotebookTemplate = defineQuery({
  name: 'getNotebookTemplate',
  tags: ['lab'],
  path: '/baths/:id/notebook/template.csv',
  access: 'lab.read',
  summary: 'A CSV file to fill in, with a column for each component of the bath',
  params: { id: PathId },
  reply: Csv,
});
export const previewNotebook = defineCommand({
  name: 'previewNotebook',
  tags: ['lab'],
  path: '/baths/:id/notebook/preview',
  access: 'lab.write',
  summary: 'Read a CSV file of past analyses without storing anything',
  params: { id: PathId },
  body,
  reply: NotebookPreview,
  keyless: 'works out only',
});
export const importNotebook = defineCommand({
  name: 'importNotebook',
  tags: ['lab'],
  path: '/baths/:id/notebook',
  access: 'lab.write',
  summary: 'Store a CSV file of past analyses, all of it or nothing',
  params: { id: PathId },
  body,
  reply: z.object({ analyses: z.int(), results: z.int() }),
  status: 201,
});
