import type { Part, PartItem, PartZone } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readFiles, toStoredFile } from '../../core/files/index.ts';
import * as queries from './queries.ts';

/** One part in one revision with its files, or a refusal that there is none. */
export async function getPart(execute: SqlExecutor, id: number): Promise<Part> {
  return toPart(execute, orNotFound(await queries.readPart(execute, id), `part ${id}`));
}

export async function toPart(execute: SqlExecutor, row: queries.PartRow): Promise<Part> {
  const stored = await readFiles(
    execute,
    row.files.map(({ fileId }) => fileId),
  );
  const byId = new Map(stored.map((file) => [file.id, toStoredFile(file)]));
  const { id: customerId, number: customerNumber, name } = row.customer;
  return {
    id: row.id,
    customer: { id: customerId, number: customerNumber, name },
    number: row.number,
    revision: row.revision,
    description: row.description,
    material: row.material,
    conditionReceived: row.conditionReceived,
    widthMm: row.widthMm,
    heightMm: row.heightMm,
    depthMm: row.depthMm,
    massKg: row.massKg,
    massMethod: row.massMethod,
    geometry: row.geometry,
    areaMm2: row.areaMm2,
    electricalAreaMm2: row.electricalAreaMm2,
    coatedAreaMm2: row.coatedAreaMm2,
    maskedAreaMm2: row.maskedAreaMm2,
    contactAreaMm2: row.contactAreaMm2,
    roughnessFactor: row.roughnessFactor,
    volumeMm3: row.volumeMm3,
    areaMethod: row.areaMethod,
    areaFoundBy: row.areaFoundBy,
    areaFoundAt: row.areaFoundAt.toISOString(),
    agreedColour: row.agreedColour,
    zones: row.zones,
    colourReadAt: row.colourReadAt,
    specification: row.specification,
    specificationRevision: row.specificationRevision,
    significantSurfaces: row.significantSurfaces,
    contactMarks: row.contactMarks,
    maskingNotes: row.maskingNotes,
    maskingFeatures: row.maskingFeatures,
    dimensionAllowance: row.dimensionAllowance,
    handling: row.handling,
    notes: row.notes,
    files: row.files.flatMap(({ fileId, kind, caption }) => {
      const file = byId.get(fileId);
      return file === undefined ? [] : [{ kind, caption, file }];
    }),
    predecessor: row.predecessor,
    successor: row.successor,
    used: row.used,
    archivedAt: row.archivedAt?.toISOString() ?? null,
    createdAt: row.createdAt.toISOString(),
    version: row.version,
  };
}

export const toItem = (row: queries.ItemRow): PartItem => ({
  id: row.id,
  customer: { id: row.customerId, number: row.customerNumber, name: row.customerName },
  number: row.number,
  revision: row.revision,
  description: row.description,
  materialId: row.materialId,
  materialName: row.materialName,
  baseMetal: row.baseMetal,
  areaMm2: row.areaMm2,
  massKg: row.massKg,
  geometryKind: row.geometryKind,
  agreedColour: row.agreedColour,
  superseded: row.superseded,
  archived: row.archived,
  createdAt: row.createdAt.toISOString(),
});

/** A part as its history compares it: words where the record holds structures. */
export function forHistory(part: Part): Record<string, unknown> {
  const { geometry, files, agreedColour, zones, material, ...rest } = part;
  const { kind, ...figures } = geometry;
  return {
    ...rest,
    used: undefined,
    material: `${material.name} ${material.condition}`.trim(),
    geometry: kind,
    geometryFigures: figures,
    colourStandard: agreedColour?.code ?? 'none',
    zones: zones.map(zoneInWords).join('; '),
    files: files.map(({ file }) => file.name).join(', '),
  };
}

/** `edge: Carbon steel 1075 hardened, DUSK-4` */
const zoneInWords = ({ name, material, agreedColour }: PartZone): string =>
  `${name}: ${[material && `${material.name} ${material.condition}`.trim(), agreedColour?.code].filter(Boolean).join(', ')}`;
