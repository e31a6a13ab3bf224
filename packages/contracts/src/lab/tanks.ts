import { z } from 'zod';
import { BathStatus } from './bath-status.ts';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import {
  Archived,
  Csv,
  Id,
  Instant,
  Line,
  listQuery,
  page,
  PathId,
  Positive,
  Quantity,
  Text,
  Version,
} from '../kernel/scalars.ts';
import { EquipmentCode, EquipmentRef } from '../catalog/equipment.ts';
import { TankContents } from '../catalog/steps.ts';

export const TankKind = z.enum(['electrolytic', 'immersion', 'rinse', 'dryer', 'bench']);
export type TankKind = z.output<typeof TankKind>;
export const TankCover = z.enum(['none', 'lid', 'floating-balls']);
export type TankCover = z.output<typeof TankCover>;

const Temperature = z.number().min(-50).max(400).nullable();
const tankFields = {
  code: EquipmentCode,
  name: Line(100),
  kind: TankKind,
  contents: TankContents,
  insideLengthMm: Positive(50_000),
  insideWidthMm: Positive(50_000),
  insideDepthMm: Positive(50_000),
  /** Volume in use: never more than its inside holds. */
  workingVolumeL: Positive(10_000_000),
  heaterKw: Quantity(10_000),
  coolerKw: Quantity(10_000),
  cover: TankCover,
  temperatureMinC: Temperature,
  temperatureMaxC: Temperature,
  /** Place along the line; the list is in this order. */
  lineOrder: z.int().min(0).max(10_000),
  notes: Text(4000),
};

export const Tank = z
  .object({
    id: Id,
    ...tankFields,
    code: z.string(),
    name: z.string(),
    notes: z.string(),
    /** Inside length x width x depth. */
    geometricVolumeL: z.number(),
    bath: z
      .object({
        id: Id,
        number: z.string(),
        contents: TankContents,
        madeUpAt: Instant,
        status: BathStatus,
      })
      .nullable(),
    supplies: z.array(EquipmentRef),
    archivedAt: Instant.nullable(),
    createdAt: Instant,
    version: Version,
  })
  .meta({ id: 'Tank' });
export type Tank = z.output<typeof Tank>;

/**
 * What an open tank of these inside dimensions holds to the brim, in litres.
 *
 * @example
 * geometricVolumeL({ insideLengthMm: 1200, insideWidthMm: 800, insideDepthMm: 900 }) // 864
 */
export const geometricVolumeL = (inside: {
  insideLengthMm: number;
  insideWidthMm: number;
  insideDepthMm: number;
}): number => (inside.insideLengthMm * inside.insideWidthMm * inside.insideDepthMm) / 1e6;

type TankBody = z.output<z.ZodObject<typeof tankFields>>;
function tankMakesSense(tank: TankBody, context: z.RefinementCtx): void {
  const fault = (path: keyof TankBody, message: string) =>
    context.addIssue({ code: 'custom', path: [path], message });
  const brimL = geometricVolumeL(tank);
  if (tank.workingVolumeL > brimL) {
    fault(
      'workingVolumeL',
      `must be at most ${brimL.toFixed(1)} L, what the inside dimensions hold to the brim`,
    );
  }
  const { temperatureMinC: least, temperatureMaxC: most } = tank;
  if (least !== null && most !== null && least > most) {
    fault('temperatureMinC', 'must not be above the highest temperature');
  }
  if ((tank.kind === 'dryer' || tank.kind === 'bench') !== (tank.contents === 'air')) {
    fault('contents', 'a dryer or a bench holds air, and only they do');
  }
}
export const NewTank = z.strictObject(tankFields).superRefine(tankMakesSense);
export type NewTank = z.output<typeof NewTank>;

const filters = {
  search: listQuery.search,
  archived: Archived.optional(),
  contents: TankContents.optional(),
  kind: TankKind.optional(),
};

export const listTanks = defineQuery({
  name: 'listTanks',
  tags: ['lab'],
  path: '/tanks',
  access: 'tanks.read',
  summary: 'Tanks in the order of the line',
  query: { ...listQuery, ...filters },
  reply: page(Tank),
});
export const exportTanks = defineQuery({
  name: 'exportTanks',
  tags: ['lab'],
  path: '/tanks.csv',
  access: 'tanks.read',
  summary: 'Tanks as CSV',
  query: filters,
  reply: Csv,
});
export const getTank = defineQuery({
  name: 'getTank',
  tags: ['lab'],
  path: '/tanks/:id',
  access: 'tanks.read',
  summary: 'One tank',
  params: { id: PathId },
  reply: Tank,
});
export const createTank = defineCommand({
  name: 'createTank',
  tags: ['lab'],
  path: '/tanks',
  access: 'tanks.write',
  summary: 'Add a tank',
  body: NewTank,
  reply: Tank,
  status: 201,
});
export const updateTank = defineCommand({
  name: 'updateTank',
  tags: ['lab'],
  method: 'PUT',
  path: '/tanks/:id',
  access: 'tanks.write',
  summary: 'Change a tank; what it holds changes only while it is empty',
  params: { id: PathId },
  body: z.strictObject({ ...tankFields, archived: z.boolean() }).superRefine(tankMakesSense),
  reply: Tank,
  versioned: true,
});
