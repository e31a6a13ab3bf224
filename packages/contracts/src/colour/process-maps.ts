import { z } from 'zod';
import { RevisionStatus } from '../core/approvals.ts';
import { TankContents } from '../catalog/steps.ts';
import { CouponSeriesItem, CouponTrial, StrengthUnit } from './coupons.ts';
import { FilmThicknessMean } from './film-measurements.ts';
import { defineQuery } from '../kernel/http.ts';
import { Id, PathId } from '../kernel/scalars.ts';

const ground = {
  /** Of one of its series, which stands for its material, its kind of bath and how strength is stated. */
  id: Id,
  material: CouponSeriesItem.shape.material,
  contents: TankContents,
  component: z.string(),
  unit: StrengthUnit,
  referenceTemperatureC: z.number().nullable(),
};

/** What a map can be drawn of: trials of one material in one kind of bath. */
export const ProcessMapItem = z
  .object({ ...ground, seriesCount: z.int(), trialCount: z.int() })
  .meta({ id: 'ProcessMapItem' });
export type ProcessMapItem = z.output<typeof ProcessMapItem>;

const Limit = z.object({ low: z.number(), high: z.number() });

/** A colour step of an approved recipe as a box on the map: what its limits allow, or the figure it aims at. */
export const ProcessMapBox = z.object({
  recipe: z.object({ id: Id, number: z.string(), name: z.string(), revision: z.int() }),
  step: z.string(),
  temperatureC: Limit,
  /** Null where the step runs on current and leaves the voltage open, or has none. */
  voltageV: Limit.nullable(),
  timeS: z.number(),
});
export type ProcessMapBox = z.output<typeof ProcessMapBox>;

export const ProcessMap = z
  .object({
    ...ground,
    series: z.array(
      z.object({
        id: Id,
        code: z.string(),
        revision: z.int(),
        status: RevisionStatus,
        preparation: z.string(),
      }),
    ),
    /** With an outcome, in the order of their series. */
    trials: z.array(
      CouponTrial.extend({
        seriesId: Id,
        /** Of its film, by everything that was measured of it; null where nobody did. */
        thickness: FilmThicknessMean.nullable(),
      }),
    ),
    boxes: z.array(ProcessMapBox),
  })
  .meta({ id: 'ProcessMap' });
export type ProcessMap = z.output<typeof ProcessMap>;

export const listProcessMaps = defineQuery({
  name: 'listProcessMaps',
  tags: ['colour'],
  path: '/process-maps',
  access: 'lab.read',
  summary:
    'What a map of trials can be drawn of: each material and kind of bath with coupons, approved ones and drafts',
  reply: z.object({ items: z.array(ProcessMapItem) }),
});
export const getProcessMap = defineQuery({
  name: 'getProcessMap',
  tags: ['colour'],
  path: '/process-maps/:id',
  access: 'lab.read',
  summary:
    'The trials of a material in a kind of bath, of every series that states strength as the one named does, newest revisions and drafts; and the approved recipes that colour this metal in such a bath, as boxes',
  params: { id: PathId },
  reply: ProcessMap,
});
