import { isDeepStrictEqual } from 'node:util';
import type { Geometry, Part, PartFacts } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { DomainError, assertVersion, orNotFound, fieldError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { readColourStandard } from '../colour-standards/index.ts';
import { getCustomer } from '../customers/index.ts';
import { keepFiles, readFiles, readFilesFor } from '../../core/files/index.ts';
import { readMaterial } from '../materials/index.ts';
import { areasOf, methodOf, type MeasuredFile } from './areas.ts';
import { readMeasurement } from './measurement-queries.ts';
import { forHistory, getPart, toPart } from './part.ts';
import * as queries from './queries.ts';

interface Saving {
  actor: Actor;
  facts: PartFacts;
}

/** Adds a part of a customer. */
export async function addPart(db: Db | Tx, options: Saving & { customerId: number }): Promise<Part> {
  const { actor, facts, customerId } = options;
  return inTransaction(db, async (tx) => {
    await checkCustomer(tx, customerId);
    await refuseTwin(tx, { customerId, ...facts });
    const id = await insert(tx, { ...options, before: null });
    await writeAudit(tx.execute, actor, { kind: 'part', id, number: facts.number, action: 'added' });
    return getPart(tx.execute, id);
  });
}

/** Adds the customer's next revision; the one before points to it and is not changed any more. */
export async function revisePart(
  db: Db,
  { actor, facts, id: beforeId, version }: Saving & { id: number; version: number },
): Promise<Part> {
  return inTransaction(db, async (tx) => {
    const before = orNotFound(await queries.lockPart(tx.execute, beforeId), `part ${beforeId}`);
    assertVersion({ stored: await toPart(tx.execute, before), version, what: 'This part' });
    refuseSuperseded(before);
    if (facts.number !== before.number) {
      throw fieldError(
        'number',
        `must stay ${before.number} in a new revision; another number is another part`,
      );
    }
    if (before.archivedAt !== null)
      throw new DomainError('conflict', 'This part is archived: restore it first.');
    const customerId = before.customer.id;
    await refuseTwin(tx, { customerId, ...facts });
    const id = await insert(tx, { actor, facts, customerId, before });
    await queries.changePart(tx, beforeId, { successorId: id });
    const names = { kind: 'part', number: facts.number } as const;
    await writeAudit(tx.execute, actor, {
      ...names,
      id: beforeId,
      action: `replaced by revision ${facts.revision}`,
    });
    await writeAudit(tx.execute, actor, {
      ...names,
      id,
      action: `added as revision ${facts.revision} after ${before.revision}`,
    });
    return getPart(tx.execute, id);
  });
}

/**
 * Changes a part; of a used revision only notes and files. The area keeps who found it and when, unless the geometry is
 * another.
 */
export async function changePart(
  db: Db,
  { actor, facts, id, version }: Saving & { id: number; version: number },
): Promise<Part> {
  return inTransaction(db, async (tx) => {
    const row = orNotFound(await queries.lockPart(tx.execute, id), `part ${id}`);
    const before = await toPart(tx.execute, row);
    assertVersion({ stored: before, version, what: 'This part' });
    refuseSuperseded(row);
    if (row.predecessor !== null && facts.number !== row.number) {
      throw fieldError('number', `must stay ${row.number}: earlier revisions carry it too`);
    }
    await refuseTwin(tx, { customerId: row.customer.id, ...facts, exceptId: id });
    const { data, files } = row.used
      ? await freeColumnsOf(tx, { actor, before, facts })
      : await columnsOf(tx, { actor, facts, customerId: row.customer.id, before: row });
    if (!row.used) await queries.setZones(tx.execute, id, facts.zones);
    await queries.changePart(tx, id, data);
    await attach(tx, id, files);
    const after = await getPart(tx.execute, id);
    const changes = changesBetween(forHistory(before), forHistory(after));
    await writeAudit(tx.execute, actor, {
      kind: 'part',
      id,
      number: after.number,
      action: 'changed',
      changes,
    });
    return after;
  });
}

type Basis = Saving & { before: queries.PartRow | null };

async function insert(tx: Tx, options: Basis & { customerId: number }): Promise<number> {
  const { data, files } = await columnsOf(tx, options);
  const { id } = await queries.addPart(tx, { customerId: options.customerId, ...data });
  await queries.setZones(tx.execute, id, options.facts.zones);
  await attach(tx, id, files);
  return id;
}

async function attach(tx: Tx, partId: number, files: queries.PartRow['files']): Promise<void> {
  await queries.setFiles(tx.execute, partId, files);
  await keepFiles(
    tx.execute,
    files.map(({ fileId }) => fileId),
  );
}

/** What may still change of a used revision: what stands on no paper. */
async function freeColumnsOf(
  tx: Tx,
  { actor, before, facts }: { actor: Actor; before: Part; facts: PartFacts },
) {
  const { notes, files, massKg, ...frozen } = facts;
  const stored: Record<string, unknown> = {
    ...before,
    materialId: before.material.id,
    colourStandardId: before.agreedColour?.standardId ?? null,
    zones: before.zones.map(({ name, material, agreedColour }) => ({
      name,
      materialId: material?.id ?? null,
      colourStandardId: agreedColour?.standardId ?? null,
    })),
  };
  const changed = Object.entries(frozen).find(([field, value]) => !isDeepStrictEqual(stored[field], value));
  const [field] = changed ?? (facts.massMethod === 'typed' && massKg !== before.massKg ? ['massKg'] : []);
  if (field !== undefined) {
    throw new DomainError(
      'immutable',
      `Part ${before.number} revision ${before.revision} was offered, ordered or run: only its notes and files change. Make a new revision.`,
      { issues: [{ path: field, message: 'cannot change any more: make a new revision' }] },
    );
  }
  await checkFiles(tx, { actor, given: files });
  return { data: { notes }, files };
}

/** Everything that is stored of the facts, computed and checked. */
async function columnsOf(tx: Tx, options: Basis & { customerId: number }) {
  const { actor, facts, before } = options;
  const { geometry, files: given, massMethod, massKg, zones, ...plain } = facts;
  const material = await readMaterial(tx.execute, facts.materialId);
  if (material === null) throw fieldError('materialId', `is ${facts.materialId}; there is no such material`);
  if (material.archivedAt !== null && before?.material.id !== material.id) {
    throw fieldError('materialId', `${material.name} is archived: choose one in use`);
  }
  const { customerId } = options;
  const path = 'colourStandardId';
  await checkStandard(tx, { id: facts.colourStandardId, path, customerId, pointedTo: pointedToBy(before) });
  await checkZones(tx, { zones, partMetal: material.baseMetal, customerId, before });
  await checkFiles(tx, { actor, given });
  const mesh = await measuredFile(tx, geometry);
  const { densityKgPerM3 } = material;
  const areas = areasOf(geometry, { measured: mesh?.measured ?? null, densityKgPerM3 });
  if (massMethod === 'volume' && areas.massKg === null) {
    throw fieldError('massMethod', 'needs a volume, and there is none: weigh a part and type its mass');
  }
  const { massKg: computedMassKg, ...figures } = areas;
  const sameGeometry = before !== null && isDeepStrictEqual(before.geometry, geometry);
  const modelMissing = mesh !== null && !given.some(({ fileId }) => fileId === mesh.fileId);
  return {
    files: modelMissing ? [...given, { fileId: mesh.fileId, kind: 'model' as const, caption: '' }] : given,
    data: {
      ...plain,
      ...figures,
      massMethod,
      massKg: massMethod === 'volume' ? computedMassKg : massKg,
      geometryKind: geometry.kind,
      geometry,
      maskedAreaMm2: geometry.maskedMm2,
      contactAreaMm2: geometry.contactMm2,
      roughnessFactor: geometry.roughnessFactor,
      areaMethod: methodOf(geometry, mesh?.measured ?? null),
      areaFoundById: sameGeometry ? before.areaFoundById : actor.personId,
      areaFoundAt: sameGeometry ? before.areaFoundAt : new Date(),
    },
  };
}

async function measuredFile(
  tx: Tx,
  geometry: Geometry,
): Promise<{ fileId: number; measured: MeasuredFile } | null> {
  if (geometry.kind !== 'mesh') return null;
  const path = 'geometry.measurementId';
  const row = await readMeasurement(tx.execute, geometry.measurementId);
  if (row === null) throw fieldError(path, `is ${geometry.measurementId}; there is no such measurement`);
  if (row.status !== 'done' || row.result === null) {
    throw fieldError(path, `is ${row.status}: wait until it is done, or send another file`);
  }
  if (row.unit === 'mm' && geometry.unit !== 'mm') {
    throw fieldError('geometry.unit', 'must be mm: a STEP file says its unit and is measured in mm');
  }
  const [file] = await readFiles(tx.execute, [row.fileId]);
  return {
    fileId: row.fileId,
    measured: { name: file?.name ?? 'a file', saysItsUnit: row.unit === 'mm', result: row.result },
  };
}

async function checkFiles(
  tx: Tx,
  { actor, given }: { actor: Actor; given: PartFacts['files'] },
): Promise<void> {
  const files = await readFilesFor(tx.execute, { actor, ids: given.map(({ fileId }) => fileId) });
  const known = new Set(files.map(({ id }) => id));
  given.forEach(({ fileId }, index) => {
    if (!known.has(fileId)) throw fieldError(`files.${index}.fileId`, `is ${fileId}; there is no such file`);
  });
}

async function checkCustomer(tx: Tx, customerId: number): Promise<void> {
  const customer = await getCustomer(tx, customerId).catch(() => {
    throw fieldError('customerId', `is ${customerId}; there is no such customer`);
  });
  if (customer.archivedAt !== null) throw fieldError('customerId', `${customer.name} is archived`);
}

/** The standards that a part points to already, for itself and its zones. */
const pointedToBy = (before: queries.PartRow | null): unknown[] => [
  before?.colourStandardId,
  ...(before?.zones ?? []).map(({ agreedColour }) => agreedColour?.standardId),
];

/** A zone is of the part's own metal in a condition of its own, and may have a standard of its own. */
async function checkZones(
  tx: Tx,
  options: {
    zones: PartFacts['zones'];
    partMetal: string;
    customerId: number;
    before: queries.PartRow | null;
  },
): Promise<void> {
  const { zones, partMetal, customerId, before } = options;
  for (const [index, { materialId, colourStandardId }] of zones.entries()) {
    const path = `zones.${index}.colourStandardId`;
    await checkStandard(tx, { id: colourStandardId, path, customerId, pointedTo: pointedToBy(before) });
    if (materialId === null) continue;
    const material = await readMaterial(tx.execute, materialId);
    if (material === null)
      throw fieldError(`zones.${index}.materialId`, `is ${materialId}; there is no such material`);
    if (material.baseMetal !== partMetal)
      throw fieldError(
        `zones.${index}.materialId`,
        `${material.name} is ${material.baseMetal}, and the part is ${partMetal}: a piece goes through one bath`,
      );
  }
}

/** A standard of the shop's own or of the same customer, and not one that was retired, unless the part points to it already. */
async function checkStandard(
  tx: Tx,
  options: { id: number | null; path: string; customerId: number; pointedTo: readonly unknown[] },
): Promise<void> {
  const { id, path, customerId, pointedTo } = options;
  if (id === null) return;
  const standard = await readColourStandard(tx.execute, { id }).catch(() => {
    throw fieldError(path, `is ${id}; there is no such colour standard`);
  });
  if (standard.customer !== null && standard.customer.id !== customerId)
    throw fieldError(path, `${standard.code} is of ${standard.customer.name}: choose one of this customer`);
  if (standard.status === 'retired' && !pointedTo.includes(id))
    throw fieldError(path, `${standard.code} is retired: choose one in use`);
}

async function refuseTwin(
  tx: Tx,
  options: { customerId: number; number: string; revision: string; exceptId?: number },
): Promise<void> {
  const twin = await queries.findPart(tx.execute, options);
  if (twin !== null && twin !== options.exceptId) {
    throw new DomainError(
      'already-exists',
      `This customer has part ${options.number} in revision ${options.revision} already.`,
      {
        issues: [{ path: 'revision', message: `exists already for part ${options.number}` }],
      },
    );
  }
}

function refuseSuperseded({ number, revision, successor }: queries.PartRow): void {
  if (successor === null) return;
  throw new DomainError(
    'immutable',
    `Part ${number} revision ${revision} was replaced by revision ${successor.revision}: change that one.`,
  );
}
