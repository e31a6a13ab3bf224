import {
  stepQuantities,
  type LotTrace,
  type SignOff,
  type TraceEvent,
  type Traveler,
} from '@huelot/contracts';
import type { z } from 'zod';
import type { Db } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { analysesAround } from '../../lab/analyses/index.ts';
import { readLot, readLotEvidence } from '../../production/lots/index.ts';
import { readTravelersOfLot } from '../../production/travelers/index.ts';
import { readCertificateEvents } from '../../quality/certificates/index.ts';
import { readAssessmentEvents } from '../../quality/impact-assessments/index.ts';
import { readNonconformanceEvents } from '../../quality/nonconformances/index.ts';
import { viewLotColour } from '../../quality/colour-readings/index.ts';
import { colourEvents } from './colour-events.ts';
import { readCancellation, readOrigins } from './lot-trace-queries.ts';

type Event = z.input<typeof TraceEvent>;

/** Everything that touched a lot, in the order it happened: from the quotation to the last shipment. */
export async function readChain(db: Db, lotId: number): Promise<z.input<typeof LotTrace>> {
  const [
    lot,
    origins,
    travelers,
    cancellation,
    colour,
    evidence,
    certificates,
    nonconformances,
    assessments,
  ] = await Promise.all([
    readLot(db.execute, lotId),
    readOrigins(db.execute, lotId),
    readTravelersOfLot(db.execute, lotId),
    readCancellation(db.execute, lotId),
    viewLotColour(db, lotId),
    readLotEvidence(db.execute, lotId),
    readCertificateEvents(db.execute, lotId),
    readNonconformanceEvents(db.execute, lotId),
    readAssessmentEvents(db.execute, lotId),
  ]);
  const whole = orNotFound(lot, `lot ${lotId}`);
  const from = orNotFound(origins, `lot ${lotId}`);
  const events: Event[] = [
    ...originEvents(from),
    {
      at: whole.createdAt,
      kind: 'released',
      title: `Released ${whole.quantity} pieces as ${whole.number}`,
      by: from.releasedBy,
      detail: [whole.rack && `rack ${whole.rack.code}`, whole.supply && `supply ${whole.supply.code}`]
        .filter(Boolean)
        .join(', '),
      signOffId: null,
    },
    ...travelers.flatMap(travelerEvents),
    ...colourEvents(colour.readings),
    ...whole.holds.flatMap((hold): Event[] => [
      {
        at: hold.placedAt,
        kind: 'hold',
        title: 'Put on hold',
        by: hold.placedBy,
        detail: hold.reason,
        signOffId: null,
      },
      ...(hold.releasedAt === null
        ? []
        : [
            {
              at: hold.releasedAt,
              kind: 'hold-released' as const,
              title: 'Released from hold',
              by: hold.releasedBy,
              detail: hold.releaseReason ?? '',
              signOffId: null,
            },
          ]),
    ]),
    ...evidence.exceptions.map((exception): Event => ({
      at: exception.at,
      kind: 'evidence',
      by: exception.by,
      signOffId: null,
      title: `Allowed without evidence: ${exception.place} of ${exception.record}`,
      detail: `${exception.finding}. ${exception.reason}`,
    })),
    ...whole.checks.map((check): Event => ({
      at: check.checkedAt,
      kind: 'check',
      by: check.checkedBy,
      signOffId: null,
      title: `Final check: ${check.acceptedCount} accepted, ${check.rejectedCount} rejected, ${check.reworkCount} to rework`,
      detail: [check.reason, check.notes].filter((text) => text !== '').join(' '),
    })),
    ...whole.shipments.map((shipment): Event => ({
      at: shipment.shippedAt,
      kind: 'shipped',
      by: shipment.shippedBy,
      signOffId: null,
      title: `Shipped ${shipment.quantity} pieces as ${shipment.number}`,
      detail: [shipment.carrier, shipment.document, shipment.notes].filter((text) => text !== '').join(', '),
    })),
    ...certificates.map(({ number, revision, at, by, withdrawn, why }): Event => ({
      ...{ at: at.toISOString(), kind: 'certified', by, detail: why, signOffId: null },
      title: `${withdrawn ? 'Withdrew certificate' : 'Certificate'} ${number} revision ${revision}`,
    })),
    ...nonconformances.map(({ number, at, by, what, detail }): Event => ({
      ...{ at: at.toISOString(), kind: 'nonconformance', by, detail, signOffId: null },
      title: `Nonconformance ${number}: ${what}`,
    })),
    ...assessments.map(({ number, at, by, what, detail }): Event => ({
      ...{ at: at.toISOString(), kind: 'assessment', by, detail, signOffId: null },
      title: `Impact assessment ${number}: ${what}`,
    })),
    ...(cancellation === null
      ? []
      : [
          {
            at: cancellation.at.toISOString(),
            kind: 'cancelled' as const,
            title: 'Cancelled',
            by: cancellation.by,
            detail: cancellation.reason ?? '',
            signOffId: null,
          },
        ]),
  ];
  return {
    lot: whole,
    part: {
      material: from.material,
      baseMetal: from.baseMetal,
      areaMm2: from.areaMm2,
      areaMethod: from.areaMethod,
      areaFoundBy: from.areaFoundBy,
      areaFoundAt: from.areaFoundAt,
    },
    quotation: from.quotation,
    travelers,
    colour,
    evidence,
    events: events.sort((one, other) => Date.parse(one.at) - Date.parse(other.at)),
    baths: await analysesAround(db.execute, [
      ...new Set(travelers.flatMap(({ steps }) => steps.flatMap(({ signOff }) => signOff?.id ?? []))),
    ]),
  };
}

function originEvents(from: NonNullable<Awaited<ReturnType<typeof readOrigins>>>): Event[] {
  return [
    ...(from.quotation === null || from.quotedAt === null
      ? []
      : [
          {
            at: from.quotedAt.toISOString(),
            kind: 'quoted' as const,
            title: `Quoted on ${from.quotation.number} revision ${from.quotation.revision}`,
            by: from.quotedBy,
            detail: '',
            signOffId: null,
          },
        ]),
    {
      at: from.orderedAt.toISOString(),
      kind: 'ordered',
      title: `Ordered on ${from.orderNumber}`,
      by: from.orderedBy,
      detail: '',
      signOffId: null,
    },
    ...from.receipts.map((receipt): Event => ({
      at: receipt.at,
      kind: 'received',
      title:
        receipt.kind === 'correction'
          ? `Count corrected: ${receipt.total} pieces came in all`
          : receipt.count === receipt.total
            ? `Received ${receipt.count} pieces`
            : `Received ${receipt.count} pieces more, ${receipt.total} in all`,
      by: receipt.by,
      detail: receipt.reason,
      signOffId: null,
    })),
  ];
}

function travelerEvents(traveler: Traveler): Event[] {
  const name = `${traveler.number} revision ${traveler.revision}`;
  return [
    {
      at: traveler.issuedAt,
      kind: traveler.status === 'superseded' ? 'superseded' : 'traveler',
      by: traveler.issuedBy,
      signOffId: null,
      title: traveler.kind === 'rework' ? `Rework traveler ${name} issued` : `Traveler ${name} issued`,
      detail: [traveler.changeNote, traveler.status === 'superseded' ? 'superseded since' : '']
        .filter((text) => text !== '')
        .join('; '),
    },
    ...traveler.steps.flatMap(({ signOff, carried, position, title }): Event[] =>
      signOff === null || carried
        ? []
        : [
            {
              at: signOff.doneAt,
              kind: 'step',
              title: `Step ${position}, ${title}`,
              by: signOff.person,
              detail: signOff.note,
              signOffId: signOff.id,
            },
            ...correctionEvents(position, signOff),
          ],
    ),
  ];
}

/** What was put right of a signed step, beside what was signed. */
function correctionEvents(position: number, signOff: SignOff): Event[] {
  const event = (correction: { at: string; by: string; reason: string }, title: string): Event => ({
    at: correction.at,
    kind: 'correction',
    by: correction.by,
    signOffId: signOff.id,
    title: `Step ${position}: ${title}`,
    detail: correction.reason,
  });
  return [
    ...signOff.corrections.map((correction) =>
      event(
        correction,
        `${stepQuantities[correction.quantity].label} corrected from ${correction.oldValue ?? 'nothing'} to ${correction.newValue} ${stepQuantities[correction.quantity].unit}`.trim(),
      ),
    ),
    ...signOff.countCorrections.map((correction) =>
      event(correction, `pieces corrected to ${correction.countOut} out, ${correction.rejectCount} rejected`),
    ),
    ...signOff.doneCorrections.map((correction) =>
      event(
        correction,
        correction.doneAt === null
          ? 'signed by mistake, it was not done'
          : 'when it was really done is corrected',
      ),
    ),
  ];
}
