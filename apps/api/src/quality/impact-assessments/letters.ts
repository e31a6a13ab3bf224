import type {
  ImpactAssessment,
  issueLetter,
  LetterFacts,
  LetterSheet,
  stateNoLetter,
} from '@huelot/contracts';
import type { z } from 'zod';
import { readShop } from '../../catalog/settings/index.ts';
import { signature, writeAudit } from '../../core/audit/index.ts';
import { keepPaper, readPaper } from '../../core/issued-papers/index.ts';
import { inTransaction, type Db, type Queryable } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { customerLetterPdf } from '../../documents/customer-letter-pdf.ts';
import type { Actor } from '../../kernel/actor.ts';
import { fieldError, orNotFound } from '../../kernel/refusal.ts';
import { lockOpen } from './open.ts';
import * as queries from './queries.ts';
import { isAffected, view } from './view.ts';
import { addEntries, addLetter } from './write-queries.ts';

interface About {
  actor: Actor;
  id: number;
}
type Body<E extends { body: z.ZodType }> = z.output<E['body']>;

/** A customer of the assessment who has pieces of affected lots; anybody else gets no letter from here. */
function customerOf({ customers }: ImpactAssessment, customerId: number) {
  const customer = customers.find(({ id }) => id === customerId);
  if (customer === undefined)
    throw fieldError('customerId', 'has no pieces of a lot that was judged affected');
  return customer;
}

/** What a letter says of lots, orders, pieces and certificates, as the record stands. */
async function factsOf(
  db: Queryable,
  { assessment, customerId }: { assessment: ImpactAssessment; customerId: number },
): Promise<{ facts: LetterFacts; contacts: string[] }> {
  customerOf(assessment, customerId);
  const ids = assessment.assessed
    .filter((lot) => isAffected(lot) && lot.shippedCount > 0 && lot.facts.customer.id === customerId)
    .map(({ lotId }) => lotId);
  const rows = await queries.readLotFacts(db.execute, { ids });
  const { address, contacts } = await queries.readAddressee(db.execute, customerId);
  const { name, address: shopAddress, contact, timeZone, units } = await readShop(db);
  const customer = orNotFound(rows[0] ?? null, `lots of customer ${customerId}`).customer;
  return {
    contacts,
    facts: {
      shop: { name, address: shopAddress, contact, timeZone, units },
      ...{ customer, address: address ?? '', assessment: assessment.number },
      lots: rows.toReversed().map(({ number, order, part, shipments, certificates }) => ({
        ...{ number, order: order.number, customerOrderNumber: order.customerOrderNumber, part, shipments },
        certificates: certificates.map((one) => `${one.number} revision ${one.revision}`),
      })),
    },
  };
}

/** A letter before anybody types: the facts, and words to begin from. */
export async function readLetterSheet(
  db: Db,
  { id, customerId }: { id: number; customerId: number },
): Promise<LetterSheet> {
  const assessment = await view(db, id);
  const { facts, contacts } = await factsOf(db, { assessment, customerId });
  const words = new Set(
    assessment.assessed
      .filter((lot) => isAffected(lot) && lot.facts.customer.id === customerId)
      .flatMap(({ judgements }) => judgements.at(-1)?.text ?? []),
  );
  return {
    ...{ facts, contacts },
    found: [assessment.reason, ...words].join('\n\n'),
    asked:
      'Please do not use the pieces listed here until we have agreed what becomes of them. Tell us how many you still have and where they were used. We offer to inspect or to replace them.',
  };
}

/** Signs a letter to an affected customer and keeps its paper: from then on neither changes. */
export function issue(
  db: Db,
  { actor, id, input }: About & { input: Body<typeof issueLetter> },
): Promise<ImpactAssessment> {
  return inTransaction(db, async (tx) => {
    const { number: assessmentNumber } = await lockOpen(tx, id);
    const { customerId, attention, found, asked, jobTitle } = input;
    const { facts } = await factsOf(tx, { assessment: await view(tx, id), customerId });
    const number = await nextNumber(tx.execute, 'customer-letter');
    const words = { attention: attention.trim(), found, asked, jobTitle };
    const letter = await addLetter(tx, {
      ...{ ...words, number, assessmentId: id, customerId, facts, signedById: actor.personId },
    });
    const shows = {
      letter: { ...words, number, signedBy: actor.displayName },
      ...{ facts, signedAt: letter.signedAt.toISOString() },
    };
    await keepPaper(tx, {
      ...{ kind: 'customer-letter', recordId: letter.id, title: `Letter ${number}` },
      ...{ fileName: `${number}.pdf`, units: facts.shop.units },
      ...{ issuedById: actor.personId, issuedAt: letter.signedAt, shows },
      draw: () => customerLetterPdf(shows),
    });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'impact-assessment', id, number: assessmentNumber },
      action: `signed letter ${number} to ${facts.customer.name}`,
      changes: signature(actor, 'signed'),
    });
    return view(tx, id);
  });
}

/** Says why an affected customer gets no letter. */
export function giveReasonForNone(
  db: Db,
  { actor, id, input }: About & { input: Body<typeof stateNoLetter> },
): Promise<ImpactAssessment> {
  return inTransaction(db, async (tx) => {
    const { number } = await lockOpen(tx, id);
    const { name } = customerOf(await view(tx, id), input.customerId);
    await addEntries(tx, [
      {
        ...{ assessmentId: id, kind: 'no-letter', customerId: input.customerId },
        ...{ text: input.reason, byId: actor.personId },
      },
    ]);
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'impact-assessment', id, number, reason: input.reason },
      action: `said why ${name} gets no letter`,
    });
    return view(tx, id);
  });
}

/** The letter as it was signed. */
export async function print(db: Queryable, id: number): Promise<{ name: string; file: Buffer }> {
  const { fileName, bytes } = orNotFound(
    await readPaper(db, { kind: 'customer-letter', recordId: id, issue: 1 }),
    `letter ${id}`,
  );
  return { name: fileName, file: Buffer.from(bytes) };
}
