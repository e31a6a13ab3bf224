import {
  standingCounts,
  stepQuantities,
  type CertifiedFacts,
  type ColourReading,
  type InspectionRecord,
  type Lot,
  type LotColour,
  type Shipment,
  type Traveler,
} from '@huelot/contracts';
import type { z } from 'zod';

interface LotRecord {
  lot: Lot;
  /** The first one issued first. */
  travelers: readonly Traveler[];
  colour: z.input<typeof LotColour>;
  inspections: readonly InspectionRecord[];
  shop: CertifiedFacts['shop'] & { retentionYears: number };
  shipment: z.output<typeof Shipment>;
}

/** Readings that count, and decide: neither corrected nor withdrawn, measured or compared. */
const deciding = (readings: readonly ColourReading[]) =>
  readings.flatMap((reading) =>
    reading.correctedById === null && !reading.withdrawn && reading.verdict !== null
      ? [{ ...reading, verdict: reading.verdict }]
      : [],
  );

/** What a certificate of a shipment says, from the record alone. */
export function certifiedFacts({
  lot,
  travelers,
  colour,
  inspections,
  shop,
  shipment,
}: LotRecord): CertifiedFacts {
  const last = travelers.at(-1);
  if (last === undefined) throw new Error(`lot ${lot.number} has no traveler`);
  const { head } = last;
  const signed = travelers
    .flatMap(({ steps }) => steps.flatMap(({ signOff }) => (signOff === null ? [] : [signOff.doneAt])))
    .toSorted();
  const [from, to] = [signed[0], signed.at(-1)];
  const { name, address, contact, timeZone, units, retentionYears } = shop;
  return {
    shop: { name, address, contact, timeZone, units },
    ...{ customer: head.customer, order: head.order },
    part: { number: head.part.number, revision: head.part.revision, description: head.part.description },
    material: [head.material.name, head.material.condition].filter(Boolean).join(', '),
    specification: [head.specification, head.specificationRevision].filter(Boolean).join(' '),
    recipe: { number: head.recipe.number, name: head.recipe.name, revision: head.recipe.revision },
    lot: {
      ...{ number: lot.number, quantity: lot.quantity },
      ...{ acceptedCount: lot.acceptedCount, rejectedCount: lot.rejectedCount },
    },
    travelers: travelers
      .filter(({ status }) => status !== 'superseded' && status !== 'cancelled')
      .map(({ number, revision }) => `${number} revision ${revision}`),
    processed: from === undefined || to === undefined ? null : { from, to },
    shipment: {
      ...{ number: shipment.number, quantity: shipment.quantity, carrier: shipment.carrier },
      ...{ document: shipment.document, shippedAt: shipment.shippedAt, shippedBy: shipment.shippedBy },
    },
    inspectionLevel: head.inspectionLevel,
    checks: lot.checks.map(({ acceptedCount, rejectedCount, reworkCount, reason, checkedBy, checkedAt }) => ({
      ...{ acceptedCount, rejectedCount, reworkCount, reason, checkedBy, checkedAt },
    })),
    ...(inspections.length === 0 ? {} : { inspections: [...inspections] }),
    colours: [
      ...(head.agreedColour === null ? [] : [{ zone: '', agreed: head.agreedColour }]),
      ...head.zones.flatMap(({ name: zone, agreedColour: agreed }) =>
        agreed === null ? [] : [{ zone, agreed }],
      ),
    ],
    guardFactor: colour.guardFactor,
    readings: deciding(colour.readings)
      .toReversed()
      .map(({ zone, place, grade, judged, expandedUncertainty, verdict, ...reading }) => ({
        ...{ zone, place, grade, expandedUncertainty, verdict },
        ...{ deltaE: judged?.deltaE ?? null, limit: judged?.limit ?? null },
        ...{ instrument: reading.instrument, instrumentOverdue: reading.instrumentOverdue },
        ...{ readBy: reading.readBy, secondBy: reading.secondBy, readAt: reading.readAt },
      })),
    recordsKeptYears: retentionYears,
  };
}

/** Why nothing of a lot can be certified as things stand. */
export function obstaclesTo({ lot, colour }: Pick<LotRecord, 'lot' | 'colour'>): string[] {
  const open = lot.holds.filter(({ releasedAt }) => releasedAt === null);
  return [
    ...open.map(({ reason }) => `Lot ${lot.number} is on hold: ${reason}`),
    ...(colour.missing === '' ? [] : [colour.missing]),
  ];
}

/** What happened to a lot that a signer has to write about: nobody signs past it without a word. */
export function concernsOf({
  lot,
  travelers,
  colour,
  inspections,
  exceptions,
}: Pick<LotRecord, 'lot' | 'travelers' | 'colour' | 'inspections'> & {
  exceptions: readonly { place: string; finding: string; by: string; reason: string }[];
}): string[] {
  const steps = travelers
    .filter(({ status }) => status !== 'superseded')
    .flatMap((traveler) =>
      traveler.steps.flatMap(({ position, title, signOff }) => {
        if (signOff === null) return [];
        const step = `${traveler.number} step ${position}, ${title}`;
        const { rejectCount } = standingCounts(signOff);
        return [
          ...(signOff.outside ? [`${step}: signed outside its limits. ${signOff.reason}`] : []),
          ...signOff.readings.flatMap(({ quantity, instrument, instrumentFault }) =>
            instrumentFault === null
              ? []
              : [
                  `${step}: ${stepQuantities[quantity].label} was read with ${instrument}, which ${instrumentFault === 'failed' ? 'had failed its calibration' : 'was overdue for calibration'}.`,
                ],
          ),
          ...(signOff.override === null
            ? []
            : [
                `${step}: the bath was ${signOff.bathState ?? 'held'}, override by ${signOff.override.by}. ${signOff.override.reason}`,
              ]),
          ...(signOff.outsideCompetence === null
            ? []
            : [
                `${step}: ${signOff.person} was let sign outside competence by ${signOff.outsideCompetence.by}. ${signOff.outsideCompetence.reason}`,
              ]),
          ...(signOff.corrections.length > 0
            ? [`${step}: corrected after it was signed. ${signOff.corrections.at(-1)?.reason ?? ''}`]
            : []),
          ...(rejectCount > 0 ? [`${step}: ${rejectCount} pieces rejected. ${signOff.countReason}`] : []),
        ];
      }),
    );
  const readings = deciding(colour.readings).flatMap((reading) => {
    const where = [reading.zone, reading.place].filter(Boolean).join(', ') || 'the piece';
    return [
      ...(reading.verdict === 'hold' ? [`Colour of ${where}: beyond its limit.`] : []),
      ...(reading.instrumentOverdue
        ? [`Colour of ${where}: ${reading.instrument} was overdue for calibration.`]
        : []),
      ...(reading.standardExpired ? [`Colour of ${where}: its standard had expired.`] : []),
    ];
  });
  return [
    ...new Set([
      ...steps,
      ...readings,
      ...inspections
        .filter(({ verdict }) => verdict === 'rejected')
        .map(
          ({ name, found, inspected }) =>
            `Sample of ${name} rejected: ${found} of ${inspected} did not conform.`,
        ),
      ...inspections
        .filter(({ instrumentOverdue }) => instrumentOverdue)
        .map(
          ({ name, instrument }) => `${name}: ${instrument ?? 'its instrument'} was overdue for calibration.`,
        ),
      ...lot.holds.flatMap(({ reason, releasedBy, releaseReason }) =>
        releasedBy === null
          ? []
          : [`Was on hold: ${reason}. Released by ${releasedBy}: ${releaseReason ?? ''}`],
      ),
      ...exceptions.map(
        ({ place, finding, by, reason }) =>
          `Not proved at its ${place}: ${finding} Allowed by ${by}: ${reason}`,
      ),
    ]),
  ];
}
