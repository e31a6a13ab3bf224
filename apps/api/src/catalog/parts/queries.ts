import { isDeepStrictEqual } from 'node:util';
import type {
  AgreedColour,
  BaseMetal,
  ColourReadAt,
  CustomerRef,
  Geometry,
  NewPartZone,
  PartFileKind,
  PartZone,
  listParts,
} from '@huelot/contracts';
import type { z } from 'zod';
import { sql, Prisma, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing, keyset, whereArchived } from '../../db/lists.ts';

export interface PartRow {
  id: number;
  customer: CustomerRef & { archived: boolean };
  number: string;
  revision: string;
  description: string;
  material: {
    id: number;
    name: string;
    condition: string;
    baseMetal: BaseMetal;
    densityKgPerM3: number;
    heatCapacityJPerKgK: number;
  };
  conditionReceived: string;
  widthMm: number | null;
  heightMm: number | null;
  depthMm: number | null;
  massKg: number | null;
  massMethod: 'typed' | 'volume';
  geometry: Geometry;
  areaMm2: number;
  electricalAreaMm2: number;
  coatedAreaMm2: number;
  maskedAreaMm2: number;
  contactAreaMm2: number;
  roughnessFactor: number;
  volumeMm3: number | null;
  areaMethod: string;
  areaFoundById: number;
  areaFoundBy: string;
  areaFoundAt: Date;
  colourStandardId: number | null;
  agreedColour: AgreedColour | null;
  zones: PartZone[];
  colourReadAt: ColourReadAt;
  specification: string;
  specificationRevision: string;
  significantSurfaces: string;
  contactMarks: string;
  maskingNotes: string;
  maskingFeatures: number;
  dimensionAllowance: string;
  handling: string;
  notes: string;
  files: { fileId: number; kind: z.output<typeof PartFileKind>; caption: string }[];
  predecessor: { id: number; revision: string } | null;
  successor: { id: number; revision: string } | null;
  used: boolean;
  archivedAt: Date | null;
  createdAt: Date;
  version: number;
}

export async function readPart(execute: SqlExecutor, id: number): Promise<PartRow | null> {
  const [row] = await execute<PartRow>(sql`
    select p.*, agreed_colour(p."colourStandardId") as "agreedColour", zones_of_part(p."id") as "zones", who."displayName" as "areaFoundBy",
           jsonb_build_object('id', c."id", 'number', c."number", 'name', c."name", 'archived', c."archivedAt" is not null) as "customer",
           jsonb_build_object('id', m."id", 'name', m."name", 'condition', m."condition", 'baseMetal', m."baseMetal",
             'densityKgPerM3', m."densityKgPerM3", 'heatCapacityJPerKgK', m."heatCapacityJPerKgK") as "material",
           (select jsonb_build_object('id', b."id", 'revision', b."revision") from "part" b where b."successorId" = p."id") as "predecessor",
           (select jsonb_build_object('id', n."id", 'revision', n."revision") from "part" n where n."id" = p."successorId") as "successor",
           part_is_used(p."id") as "used",
           coalesce((select jsonb_agg(jsonb_build_object('fileId', f."fileId", 'kind', f."kind", 'caption', f."caption") order by f."id")
                       from "part_file" f where f."partId" = p."id"), '[]') as "files"
      from "part" p
      join "customer" c on c."id" = p."customerId"
      join "material" m on m."id" = p."materialId"
      join "person" who on who."id" = p."areaFoundById"
     where p."id" = ${id}`);
  return row ?? null;
}

/** Like {@link readPart}, held until the transaction ends. */
export async function lockPart(execute: SqlExecutor, id: number): Promise<PartRow | null> {
  await execute(sql`select "id" from "part" where "id" = ${id} for update`);
  return readPart(execute, id);
}

/** The part of a customer with a number and revision, if there is one. */
export async function findPart(
  execute: SqlExecutor,
  { customerId, number, revision }: { customerId: number; number: string; revision: string },
): Promise<number | null> {
  const [row] = await execute<{ id: number }>(sql`
    select "id" from "part"
     where "customerId" = ${customerId} and "number" = ${number} and "revision" = ${revision}`);
  return row?.id ?? null;
}

export type PartData = Omit<
  Prisma.PartUncheckedCreateInput,
  'id' | 'version' | 'createdAt' | 'files' | 'zones' | 'successorId'
>;

export const addPart = (db: Queryable, data: PartData) =>
  db.prisma.part.create({ data, select: { id: true } });
export const changePart = (db: Queryable, id: number, data: Partial<PartData> & { successorId?: number }) =>
  db.prisma.part.update({
    where: { id },
    data: { ...data, version: { increment: 1 } },
    select: { id: true },
  });

/** Replaces the files of a part, in the order given. */
export async function setFiles(execute: SqlExecutor, partId: number, files: PartRow['files']): Promise<void> {
  await execute(sql`delete from "part_file" where "partId" = ${partId}`);
  for (const { fileId, kind, caption } of files) {
    await execute(sql`
      insert into "part_file" ("partId", "fileId", "kind", "caption") values (${partId}, ${fileId}, ${kind}, ${caption})`);
  }
}

/** Replaces the zones of a part, in the order given; where nothing differs nothing is written. */
export async function setZones(
  execute: SqlExecutor,
  partId: number,
  zones: readonly NewPartZone[],
): Promise<void> {
  const stored = await execute<NewPartZone>(sql`
    select "name", "materialId", "colourStandardId" from "part_zone" where "partId" = ${partId} order by "position"`);
  if (isDeepStrictEqual(stored, zones)) return;
  await execute(sql`delete from "part_zone" where "partId" = ${partId}`);
  for (const [position, { name, materialId, colourStandardId }] of zones.entries()) {
    await execute(sql`
      insert into "part_zone" ("partId", "position", "name", "materialId", "colourStandardId")
      values (${partId}, ${position}, ${name}, ${materialId}, ${colourStandardId})`);
  }
}

export async function countOpenOrderLines(execute: SqlExecutor, partId: number): Promise<number> {
  const [row] = await execute<{ count: number }>(sql`
    select count(*)::int as "count" from "order_line" l join "customer_order" o on o."id" = l."orderId"
     where l."partId" = ${partId} and l."cancelledAt" is null and o."status" = 'open'`);
  return row?.count ?? 0;
}

export interface ItemRow {
  id: number;
  customerId: number;
  customerNumber: string;
  customerName: string;
  number: string;
  revision: string;
  description: string;
  materialId: number;
  materialName: string;
  baseMetal: BaseMetal;
  areaMm2: number;
  massKg: number | null;
  geometryKind: 'typed' | 'shapes' | 'mesh';
  areaMethod: string;
  agreedColour: AgreedColour | null;
  superseded: boolean;
  archived: boolean;
  createdAt: Date;
  sortValue: string | number;
}

const sorts = {
  number: { column: sql`p."number"`, kind: 'string' },
  customer: { column: sql`c."name"`, kind: 'string' },
  area: { column: sql`p."areaMm2"`, kind: 'number' },
  createdAt: { column: sql`p."id"`, kind: 'number' },
} as const;

/** Parts in the order asked for, one more than the page holds. */
export function readItems(
  execute: SqlExecutor,
  filter: z.output<typeof listParts.query> & { limit: number },
): Promise<ItemRow[]> {
  const at = keyset({ sort: filter.sort ?? 'number', columns: sorts, id: sql`p."id"`, after: filter.after });
  const pattern = filter.search ? containing(filter.search) : null;
  return execute<ItemRow>(sql`
    select p."id", c."id" as "customerId", c."number" as "customerNumber", c."name" as "customerName",
           p."number", p."revision", p."description", m."id" as "materialId", m."name" as "materialName", m."baseMetal",
           p."areaMm2", p."massKg", p."geometryKind", p."areaMethod", agreed_colour(p."colourStandardId") as "agreedColour",
           p."successorId" is not null as "superseded",
           p."archivedAt" is not null as "archived", p."createdAt", ${at.value} as "sortValue"
      from "part" p join "customer" c on c."id" = p."customerId" join "material" m on m."id" = p."materialId"
     where true
       ${pattern === null ? Prisma.empty : sql`and ((p."number" || ' ' || p."description") ilike ${pattern} or p."customerId" in (select "id" from "customer" where "name" ilike ${pattern}))`}
       ${filter.customerId === undefined ? Prisma.empty : sql`and p."customerId" = ${filter.customerId}`}
       ${filter.materialId === undefined ? Prisma.empty : sql`and p."materialId" = ${filter.materialId}`}
       ${filter.revisions === 'all' ? Prisma.empty : sql`and p."successorId" is null`}
       ${whereArchived(sql`p."archivedAt"`, filter.archived)}
       ${at.start}
     order by ${at.order}
     limit ${filter.limit + 1}`);
}
