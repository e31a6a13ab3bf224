import type { Certificate, CertificateSheet, issueCertificate } from '@huelot/contracts';
import type { z } from 'zod';
import { readShop } from '../../catalog/settings/index.ts';
import { signature, writeAudit } from '../../core/audit/index.ts';
import { keepPaper, readPaper } from '../../core/issued-papers/index.ts';
import { inTransaction, type Db, type Queryable, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { certificatePdf } from '../../documents/certificate-pdf.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { lockLot, readLot, readLotEvidence } from '../../production/lots/index.ts';
import { readTravelersOfLot } from '../../production/travelers/index.ts';
import { viewLotColour } from '../colour-readings/index.ts';
import { readInspections } from '../inspection-plans/index.ts';
import { readCertificateFindings } from '../nonconformances/index.ts';
import { checkCode } from './check-code.ts';
import { certifiedFacts, concernsOf, obstaclesTo } from './facts.ts';
import * as queries from './queries.ts';

/** What a certificate of a shipment would say as the record stands. */
export async function readSheet(db: Db | Tx, shipmentId: number): Promise<CertificateSheet> {
  const { lotId } = orNotFound(
    await queries.readLotOfShipment(db.execute, shipmentId),
    `shipment ${shipmentId}`,
  );
  return sheetOf(db, { shipmentId, lotId });
}

async function sheetOf(
  db: Queryable,
  { shipmentId, lotId }: { shipmentId: number; lotId: number },
): Promise<CertificateSheet> {
  const lot = orNotFound(await readLot(db.execute, lotId), `lot ${lotId}`);
  const travelers = await readTravelersOfLot(db.execute, lotId);
  const colour = await viewLotColour(db, lotId);
  const { exceptions } = await readLotEvidence(db.execute, lotId);
  const nonconformances = await readCertificateFindings(db.execute, lotId);
  const inspections = await readInspections(db.execute, lotId);
  const shop = await readShop(db);
  const shipment = orNotFound(
    lot.shipments.find(({ id }) => id === shipmentId) ?? null,
    `shipment ${shipmentId}`,
  );
  return {
    ...{ shipmentId, lotId },
    facts: certifiedFacts({ lot, travelers, colour, inspections, shop, shipment }),
    obstacles: [...obstaclesTo({ lot, colour }), ...nonconformances.obstacles],
    concerns: [
      ...concernsOf({ lot, travelers, colour, inspections, exceptions }),
      ...nonconformances.concerns,
    ],
    last: await queries.readLast(db.execute, shipmentId),
  };
}

type Input = z.output<typeof issueCertificate.body>;

/**
 * Signs a certificate of a shipment and keeps its paper: from then on neither changes. Refuses while the lot is on hold or its colour
 * is not decided, where something happened that the signer says nothing about, and where another certificate of the shipment is
 * not named as the one it replaces.
 */
export function issue(
  db: Db,
  {
    actor,
    shipmentId,
    input,
    publicUrl,
  }: { actor: Actor; shipmentId: number; input: Input; publicUrl: string },
): Promise<Certificate> {
  return inTransaction(db, async (tx) => {
    const { lotId } = orNotFound(
      await queries.lockShipment(tx.execute, shipmentId),
      `shipment ${shipmentId}`,
    );
    await lockLot(tx.execute, lotId);
    const { facts, obstacles, concerns, last } = await sheetOf(tx, { shipmentId, lotId });
    if (obstacles.length > 0) throw new DomainError('conflict', obstacles.join(' '));
    if (concerns.length > 0 && input.deviations.trim() === '')
      throw fieldError('deviations', `must say something about: ${concerns.join('; ')}`);
    checkReplaced(input, last);
    const code = checkCode();
    const { id, signedAt } = await queries.addCertificate(tx, {
      number: last?.number ?? (await nextNumber(tx.execute, 'certificate')),
      revision: (last?.revision ?? 0) + 1,
      ...{ shipmentId, lotId, facts, concerns, checkCode: code, signedById: actor.personId },
      ...{ statement: input.statement, deviations: input.deviations.trim(), jobTitle: input.jobTitle },
      ...{ replacesId: input.replaces?.id ?? null, reason: input.replaces?.reason ?? '' },
    });
    await queries.endCertificateDue(tx.execute, shipmentId);
    const row = orNotFound(await queries.readCertificate(tx.execute, id), `certificate ${id}`);
    await keepCertificate(tx, { row, actor, signedAt, publicUrl });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'certificate', id, number: nameOf(row) },
      action: row.replaces === null ? 'signed' : `signed in the place of revision ${row.replaces.revision}`,
      changes: signature(actor, 'certified'),
      reason: row.reason || null,
    });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'lot', id: lotId, number: facts.lot.number },
      action: `certified ${facts.shipment.quantity} pieces of ${facts.shipment.number} on ${nameOf(row)}`,
    });
    return view(tx, id);
  });
}

function checkReplaced({ replaces }: Input, last: CertificateSheet['last']): void {
  if (last === null && replaces !== null)
    throw fieldError('replaces', 'must be null: the shipment has no certificate yet');
  if (last === null) return;
  const name = nameOf(last);
  if (replaces === null)
    throw new DomainError(
      'already-exists',
      `The shipment has a certificate, ${name}: replace it and say why.`,
      { issues: [{ path: 'replaces', message: `must name ${name}` }] },
    );
  if (replaces.id !== last.id)
    throw fieldError('replaces.id', `must be ${last.id}, the newest certificate of the shipment, ${name}`);
}

const nameOf = ({ number, revision }: { number: string; revision: number }) =>
  `${number} revision ${revision}`;

async function keepCertificate(
  tx: Tx,
  {
    row,
    actor,
    signedAt,
    publicUrl,
  }: { row: queries.CertificateRow; actor: Actor; signedAt: Date; publicUrl: string },
): Promise<void> {
  const { number, revision, facts, statement, deviations, jobTitle, replaces, reason, signedBy } = row;
  const shows = {
    certificate: { number, revision, statement, deviations, jobTitle, replaces, reason, signedBy },
    ...{ facts, signedAt: signedAt.toISOString() },
    check: { code: row.checkCode, url: `${publicUrl}/check/${row.checkCode}` },
  };
  await keepPaper(tx, {
    ...{ kind: 'certificate', recordId: row.id, title: `Certificate ${nameOf(row)}` },
    fileName: `${number}-rev-${revision}.pdf`,
    ...{ units: facts.shop.units, issuedById: actor.personId, issuedAt: signedAt, shows },
    draw: () => certificatePdf(shows),
  });
}

/** Withdraws a certificate that stands; the paper stays readable, and whoever checks it is told. */
export function withdraw(
  db: Db,
  { actor, id, reason }: { actor: Actor; id: number; reason: string },
): Promise<Certificate> {
  return inTransaction(db, async (tx) => {
    await queries.lockCertificate(tx.execute, id);
    const row = orNotFound(await queries.readCertificate(tx.execute, id), `certificate ${id}`);
    if (row.state !== 'stands')
      throw new DomainError(
        'conflict',
        row.replacedBy === null
          ? `${nameOf(row)} was withdrawn already.`
          : `${nameOf(row)} was replaced by revision ${row.replacedBy.revision}: withdraw that one.`,
      );
    await queries.withdraw(tx, id, { personId: actor.personId, reason });
    await queries.askForCertificate(tx.execute, row.shipment.id);
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'certificate', id, number: nameOf(row), action: 'withdrew', reason },
      changes: signature(actor, 'withdrawn'),
    });
    return view(tx, id);
  });
}

/** One revision, as its page shows it. */
export async function view({ execute }: Pick<Tx, 'execute'>, id: number): Promise<Certificate> {
  const row = orNotFound(await queries.readCertificate(execute, id), `certificate ${id}`);
  const { withdrawnBy, withdrawnAt, withdrawReason, ...certificate } = row;
  return {
    ...certificate,
    signedAt: row.signedAt.toISOString(),
    withdrawn:
      withdrawnAt === null
        ? null
        : { by: withdrawnBy ?? '', at: withdrawnAt.toISOString(), reason: withdrawReason },
  };
}

/** The paper as it was signed. */
export async function print(db: Queryable, id: number): Promise<{ name: string; file: Buffer }> {
  const { fileName, bytes } = orNotFound(
    await readPaper(db, { kind: 'certificate', recordId: id, issue: 1 }),
    `certificate ${id}`,
  );
  return { name: fileName, file: Buffer.from(bytes) };
}
