import { isDeepStrictEqual } from 'node:util';
import type { Geometry, Part, PartFacts } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { Refusal, checkVersion, found, invalid } from '../../refusal.ts';
import { changesBetween, record } from '../audit/index.ts';
import { getCustomer } from '../customers/index.ts';
import { keepFiles, readFiles } from '../files/index.ts';
import { readMaterial } from '../materials/index.ts';
import { areasOf, methodOf, type MeasuredFile } from './areas.ts';
import { readMeasurement } from './measurement-queries.ts';
import { colourColumns, forHistory, getPart, toPart } from './part.ts';
import * as queries from './queries.ts';

interface Saving {
  actor: Actor;
  facts: PartFacts;
}

/** Adds a part of a customer. */
export async function addPart(db: Db, of: Saving & { customerId: number }): Promise<Part> {
  const { actor, facts, customerId } = of;
  return inTransaction(db, async (tx) => {
    await checkCustomer(tx, customerId);
    await refuseTwin(tx, { customerId, ...facts });
    const id = await insert(tx, { ...of, before: null });
    await record(tx.run, actor, { kind: 'part', id, number: facts.number, action: 'added' });
    return getPart(tx.run, id);
  });
}

/** Adds the customer's next revision; the one before points to it and is not changed any more. */
export async function revisePart(db: Db, of: Saving & { id: number; version: number }): Promise<Part> {
  const { actor, facts, id: beforeId, version } = of;
  return inTransaction(db, async (tx) => {
    const before = found(await queries.lockPart(tx.run, beforeId), `part ${beforeId}`);
    checkVersion({ stored: await toPart(tx.run, before), version, what: 'This part' });
    refuseSuperseded(before);
    if (facts.number !== before.number) {
      throw invalid('number', `must stay ${before.number} in a new revision; another number is another part`);
    }
    if (before.archivedAt !== null)
      throw new Refusal('conflict', 'This part is archived: take it out first.');
    const customerId = before.customer.id;
    await refuseTwin(tx, { customerId, ...facts });
    const id = await insert(tx, { actor, facts, customerId, before });
    await queries.changePart(tx, beforeId, { successorId: id });
    const names = { kind: 'part', number: facts.number } as const;
    await record(tx.run, actor, { ...names, id: beforeId, action: `replaced by revision ${facts.revision}` });
    await record(tx.run, actor, {
      ...names,
      id,
      action: `added as revision ${facts.revision} after ${before.revision}`,
    });
    return getPart(tx.run, id);
  });
}

/** Changes a part. The area keeps who found it and when, unless the geometry is another. */
export async function changePart(db: Db, of: Saving & { id: number; version: number }): Promise<Part> {
  const { actor, facts, id, version } = of;
  return inTransaction(db, async (tx) => {
    const row = found(await queries.lockPart(tx.run, id), `part ${id}`);
    const before = await toPart(tx.run, row);
    checkVersion({ stored: before, version, what: 'This part' });
    refuseSuperseded(row);
    if (row.predecessor !== null && facts.number !== row.number) {
      throw invalid('number', `must stay ${row.number}: earlier revisions carry it too`);
    }
    await refuseTwin(tx, { customerId: row.customer.id, ...facts, exceptId: id });
    const { data, files } = await columnsOf(tx, { actor, facts, before: row });
    await queries.changePart(tx, id, data);
    await attach(tx, id, files);
    const after = await getPart(tx.run, id);
    const changes = changesBetween(forHistory(before), forHistory(after));
    await record(tx.run, actor, { kind: 'part', id, number: after.number, action: 'changed', changes });
    return after;
  });
}

type Basis = Saving & { before: queries.PartRow | null };

async function insert(tx: Tx, of: Basis & { customerId: number }): Promise<number> {
  const { data, files } = await columnsOf(tx, of);
  const { id } = await queries.addPart(tx, { customerId: of.customerId, ...data });
  await attach(tx, id, files);
  return id;
}

async function attach(tx: Tx, partId: number, files: queries.PartRow['files']): Promise<void> {
  await queries.setFiles(tx.run, partId, files);
  await keepFiles(
    tx.run,
    files.map(({ fileId }) => fileId),
  );
}

/** Everything that is stored of the facts, computed and checked. */
async function columnsOf(tx: Tx, { actor, facts, before }: Basis) {
  const { geometry, colour, files: given, massMethod, massKg, ...plain } = facts;
  const material = await readMaterial(tx.run, facts.materialId);
  if (material === null) throw invalid('materialId', `is ${facts.materialId}; there is no such material`);
  if (material.archivedAt !== null && before?.material.id !== material.id) {
    throw invalid('materialId', `${material.name} is archived: choose one in use`);
  }
  await checkFiles(tx, given);
  const mesh = await measuredFile(tx, geometry);
  const { densityKgPerM3 } = material;
  const areas = areasOf(geometry, { measured: mesh?.measured ?? null, densityKgPerM3 });
  if (massMethod === 'volume' && areas.massKg === null) {
    throw invalid('massMethod', 'needs a volume, and there is none: weigh a part and type its mass');
  }
  const { massKg: computedMassKg, ...figures } = areas;
  const sameGeometry = before !== null && isDeepStrictEqual(before.geometry, geometry);
  const modelMissing = mesh !== null && !given.some(({ fileId }) => fileId === mesh.fileId);
  return {
    files: modelMissing ? [...given, { fileId: mesh.fileId, kind: 'model' as const, caption: '' }] : given,
    data: {
      ...plain,
      ...figures,
      ...colourColumns(colour),
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
  const row = await readMeasurement(tx.run, geometry.measurementId);
  if (row === null) throw invalid(path, `is ${geometry.measurementId}; there is no such measurement`);
  if (row.status !== 'done' || row.result === null) {
    throw invalid(path, `is ${row.status}: wait until it is done, or send another file`);
  }
  if (row.unit === 'mm' && geometry.unit !== 'mm') {
    throw invalid('geometry.unit', 'must be mm: a STEP file says its unit and is measured in mm');
  }
  const [file] = await readFiles(tx.run, [row.fileId]);
  return {
    fileId: row.fileId,
    measured: { name: file?.name ?? 'a file', saysItsUnit: row.unit === 'mm', result: row.result },
  };
}

async function checkFiles(tx: Tx, given: PartFacts['files']): Promise<void> {
  const known = new Set(
    (
      await readFiles(
        tx.run,
        given.map(({ fileId }) => fileId),
      )
    ).map(({ id }) => id),
  );
  given.forEach(({ fileId }, at) => {
    if (!known.has(fileId)) throw invalid(`files.${at}.fileId`, `is ${fileId}; there is no such file`);
  });
}

async function checkCustomer(tx: Tx, customerId: number): Promise<void> {
  const customer = await getCustomer(tx, customerId).catch(() => {
    throw invalid('customerId', `is ${customerId}; there is no such customer`);
  });
  if (customer.archivedAt !== null) throw invalid('customerId', `${customer.name} is archived`);
}

async function refuseTwin(
  tx: Tx,
  of: { customerId: number; number: string; revision: string; exceptId?: number },
): Promise<void> {
  const twin = await queries.findPart(tx.run, of);
  if (twin !== null && twin !== of.exceptId) {
    throw new Refusal(
      'already-exists',
      `This customer has part ${of.number} in revision ${of.revision} already.`,
      {
        issues: [{ path: 'revision', message: `exists already for part ${of.number}` }],
      },
    );
  }
}

function refuseSuperseded({ number, revision, successor }: queries.PartRow): void {
  if (successor === null) return;
  throw new Refusal(
    'frozen',
    `Part ${number} revision ${revision} was replaced by revision ${successor.revision}: change that one.`,
  );
}
