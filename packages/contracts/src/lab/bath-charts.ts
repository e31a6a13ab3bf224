import { z } from 'zod';
import { BathComponent } from './bath-setups.ts';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import { ComponentKey } from './lab-scalars.ts';
import { Csv, Day, Id, Instant, Line, PathId } from '../kernel/scalars.ts';

const query = { component: ComponentKey, from: Day.optional(), to: Day.optional() };

/** The stretch that control limits are reckoned from. */
export const ChartBaseline = z.object({
  from: Instant,
  to: Instant,
  reason: z.string(),
  setBy: z.string(),
  setAt: Instant,
});

/**
 * One component of a tank over its fills. Arrays run side by side, oldest first, so that ten years travel in one small
 * answer; control limits, rules and forecasts are reckoned from them by the calculation package.
 */
export const BathChart = z
  .object({
    tank: z.object({ id: Id, code: z.string(), name: z.string() }),
    component: ComponentKey,
    /** As watched now; null when it no longer is. */
    setup: BathComponent.nullable(),
    /** What else has results in this tank. */
    components: z.array(z.object({ key: z.string(), name: z.string(), points: z.int() })),
    fills: z.array(
      z.object({ bathId: Id, number: z.string(), madeUpAt: Instant, dumpedAt: Instant.nullable() }),
    ),
    points: z.object({
      analysisId: z.array(Id),
      /** Milliseconds since 1970, when the sample was taken. */
      atMs: z.array(z.number()),
      value: z.array(z.number()),
      /** 0 where none is known. */
      standardUncertainty: z.array(z.number()),
      /** Index into `fills`. */
      fill: z.array(z.int()),
    }),
    events: z.array(
      z.object({
        atMs: z.number(),
        kind: z.enum(['make-up', 'chemical', 'water', 'decant', 'filter', 'dye', 'electrode', 'dump']),
        id: Id,
        number: z.string(),
        words: z.string(),
      }),
    ),
    baseline: ChartBaseline.nullable(),
  })
  .meta({ id: 'BathChart' });
export type BathChart = z.output<typeof BathChart>;

export const getBathChart = defineQuery({
  name: 'getBathChart',
  tags: ['lab'],
  path: '/tanks/:id/bath-chart',
  access: 'lab.read',
  summary: 'One component of a tank over its baths, with what was done to it',
  params: { id: PathId },
  query,
  reply: BathChart,
});
export const exportBathChart = defineQuery({
  name: 'exportBathChart',
  tags: ['lab'],
  path: '/tanks/:id/bath-chart.csv',
  access: 'lab.read',
  summary: 'The points of a chart as CSV',
  params: { id: PathId },
  query,
  reply: Csv,
});
/** What went through a tank between one result of a component and the next; what a drift is explained by. */
export const BathWork = z
  .object({
    analysisId: z.array(Id),
    /** Area since the result before in the same fill, in square metres; 0 for the first of a fill. */
    areaM2: z.array(z.number().min(0)),
  })
  .meta({ id: 'BathWork' });
export type BathWork = z.output<typeof BathWork>;

export const getBathWork = defineQuery({
  name: 'getBathWork',
  tags: ['lab'],
  path: '/tanks/:id/bath-work',
  access: 'lab.read',
  summary: 'Area that went through a tank between one result of a component and the next',
  params: { id: PathId },
  query,
  reply: BathWork,
});
export const setChartBaseline = defineCommand({
  name: 'setChartBaseline',
  tags: ['lab'],
  method: 'PUT',
  path: '/tanks/:id/bath-chart/baseline',
  access: 'lab.write',
  summary: 'Choose the baseline that control limits are calculated from, with the reason',
  params: { id: PathId },
  body: z
    .strictObject({ component: ComponentKey, from: Instant, to: Instant, reason: Line(500) })
    .refine(({ from, to }) => Date.parse(from) < Date.parse(to), {
      path: ['to'],
      message: 'must be after the start',
    }),
  reply: ChartBaseline,
});
