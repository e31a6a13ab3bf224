import { z } from 'zod';
import { AgreedColour } from '../catalog/colour-standards.ts';
import { ColourGrade } from '../catalog/colour-grades.ts';
import { defineCommand, defineQuery } from '../kernel/http.ts';
import {
  Count,
  Id,
  Instant,
  Line,
  listQuery,
  page,
  PathId,
  Pdf,
  SystemOfUnits,
  Text,
} from '../kernel/scalars.ts';
import { ColourVerdict } from './colour-readings.ts';
import { InspectionRecord } from './inspection-plans.ts';

/** Stands; replaced by its next revision; withdrawn without one. */
export const CertificateState = z.enum(['stands', 'replaced', 'withdrawn']);
export type CertificateState = z.output<typeof CertificateState>;

const CertifiedReading = z.object({
  zone: z.string(),
  place: z.string(),
  grade: ColourGrade,
  deltaE: z.number().nullable(),
  limit: z.number().nullable(),
  /** k = 2, dE00. */
  expandedUncertainty: z.number().nullable(),
  verdict: ColourVerdict,
  instrument: z.string(),
  /** Its calibration was overdue when it read. */
  instrumentOverdue: z.boolean(),
  readBy: z.string(),
  secondBy: z.string().nullable(),
  readAt: Instant,
});

/** What a certificate says, all of it from the record. */
export const CertifiedFacts = z
  .object({
    shop: z.object({
      name: z.string(),
      address: z.string(),
      contact: z.string(),
      timeZone: z.string(),
      units: SystemOfUnits,
    }),
    customer: z.object({ number: z.string(), name: z.string() }),
    order: z.object({ number: z.string(), line: z.int(), customerOrderNumber: z.string() }),
    part: z.object({ number: z.string(), revision: z.string(), description: z.string() }),
    /** As the customer stated it. */
    material: z.string(),
    specification: z.string(),
    recipe: z.object({ number: z.string(), name: z.string(), revision: z.int() }),
    lot: z.object({ number: z.string(), quantity: Count, acceptedCount: Count, rejectedCount: Count }),
    travelers: z.array(z.string()),
    /** The first and the last step that was signed. */
    processed: z.object({ from: Instant, to: Instant }).nullable(),
    shipment: z.object({
      number: z.string(),
      quantity: Count,
      carrier: z.string(),
      document: z.string(),
      shippedAt: Instant,
      shippedBy: z.string(),
    }),
    inspectionLevel: z.string(),
    checks: z.array(
      z.object({
        acceptedCount: Count,
        rejectedCount: Count,
        reworkCount: Count,
        reason: z.string(),
        checkedBy: z.string(),
        checkedAt: Instant,
      }),
    ),
    /** What was inspected by the plan of the part; left out where there was none. */
    inspections: z.array(InspectionRecord).optional(),
    /** What was agreed, of the piece and of zones with a colour of their own. */
    colours: z.array(z.object({ zone: z.string(), agreed: AgreedColour })),
    /** Guard band of the decision about a reading, as a factor of its expanded uncertainty. */
    guardFactor: z.number(),
    readings: z.array(CertifiedReading),
    recordsKeptYears: z.int(),
  })
  .meta({ id: 'CertifiedFacts' });
export type CertifiedFacts = z.output<typeof CertifiedFacts>;

const CertificateRef = z.object({ id: Id, number: z.string(), revision: z.int() });

/** What a certificate of a shipment would say, and what stands in its way. */
export const CertificateSheet = z
  .object({
    shipmentId: Id,
    lotId: Id,
    facts: CertifiedFacts,
    /** Why nothing can be certified as things stand; empty where nothing keeps it. */
    obstacles: z.array(z.string()),
    /** What the signer has to write about. */
    concerns: z.array(z.string()),
    /** The newest certificate of the shipment: another one replaces it. */
    last: CertificateRef.extend({ state: CertificateState }).nullable(),
  })
  .meta({ id: 'CertificateSheet' });
export type CertificateSheet = z.output<typeof CertificateSheet>;

const Head = CertificateRef.extend({
  state: CertificateState,
  customer: z.string(),
  part: z.string(),
  quantity: Count,
  shipment: z.object({ id: Id, number: z.string() }),
  lot: z.object({ id: Id, number: z.string() }),
  /** It stands, and something that it rests on was put right or called in question after it was signed. */
  underReview: z.boolean(),
  signedBy: z.string(),
  signedAt: Instant,
});
export const CertificateItem = Head.meta({ id: 'CertificateItem' });
export type CertificateItem = z.output<typeof CertificateItem>;

export const Certificate = Head.extend({
  facts: CertifiedFacts,
  concerns: z.array(z.string()),
  statement: z.string(),
  deviations: z.string(),
  jobTitle: z.string(),
  replaces: CertificateRef.nullable(),
  reason: z.string(),
  replacedBy: CertificateRef.extend({ reason: z.string() }).nullable(),
  withdrawn: z.object({ by: z.string(), at: Instant, reason: z.string() }).nullable(),
  /** What was put right or called in question of its lot after it was signed. */
  since: z.array(z.object({ what: z.string(), reason: z.string(), by: z.string(), at: Instant })),
  /** Of the file, in hexadecimal. */
  sha256: z.string(),
  checkCode: z.string(),
}).meta({ id: 'Certificate' });
export type Certificate = z.output<typeof Certificate>;

export const getCertificateSheet = defineQuery({
  name: 'getCertificateSheet',
  tags: ['quality'],
  path: '/shipments/:id/certificate-sheet',
  access: 'inspection.write',
  summary:
    'What a certificate of a shipment would say, what stands in its way, and what has to be said beside it',
  params: { id: PathId },
  reply: CertificateSheet,
});
export const issueCertificate = defineCommand({
  name: 'issueCertificate',
  tags: ['quality'],
  path: '/shipments/:id/certificates',
  access: 'inspection.write',
  summary: 'Sign a certificate of a shipment; where it has one already, the new one replaces it',
  params: { id: PathId },
  body: z.strictObject({
    statement: Line(2000),
    /** What departs from the order, or why what was asked about does not; empty only where nothing was. */
    deviations: Text(4000),
    jobTitle: Line(100),
    replaces: z.strictObject({ id: Id, reason: Line(500) }).nullable(),
  }),
  reply: Certificate,
  status: 201,
  proof: 'signature',
});
export const withdrawCertificate = defineCommand({
  name: 'withdrawCertificate',
  tags: ['quality'],
  path: '/certificates/:id/withdrawal',
  access: 'inspection.write',
  summary: 'Withdraw a certificate: whoever checks a copy is told that it does not stand',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: Certificate,
  proof: 'signature',
});
export const listCertificates = defineQuery({
  name: 'listCertificates',
  tags: ['quality'],
  path: '/certificates',
  access: 'orders.read',
  summary: 'Certificates, the newest first; those that were replaced too where asked for',
  query: { ...listQuery, lotId: PathId.optional(), state: CertificateState.optional() },
  reply: page(CertificateItem),
});
export const getCertificate = defineQuery({
  name: 'getCertificate',
  tags: ['quality'],
  path: '/certificates/:id',
  access: 'orders.read',
  summary: 'One revision of a certificate as it was signed',
  params: { id: PathId },
  reply: Certificate,
});
export const printCertificate = defineQuery({
  name: 'printCertificate',
  tags: ['quality'],
  path: '/certificates/:id/pdf',
  access: 'orders.read',
  summary: 'A certificate as a PDF: the same bytes for ever',
  params: { id: PathId },
  reply: Pdf,
});

/** 80 bits, in letters and digits that are not mistaken for one another: Crockford’s base 32. */
export const CheckCode = z.string().regex(/^[0-9A-HJKMNP-TV-Z]{4}(-[0-9A-HJKMNP-TV-Z]{4}){3}$/);

/** For whoever holds a copy, without a sign-in: nothing of the goods, and nothing of whom they are for. */
export const checkCertificate = defineQuery({
  name: 'checkCertificate',
  tags: ['quality'],
  path: '/certificate-checks/:code',
  access: 'anyone',
  summary: 'Whether the certificate with this code stands, and the digest of its file',
  params: { code: CheckCode },
  reply: z.object({
    number: z.string(),
    revision: z.int(),
    state: CertificateState,
    /** Something that it rests on was put right or called in question since: the shop says what. */
    underReview: z.boolean(),
    /** SHA-256 of the file as it was issued, in hexadecimal. */
    sha256: z.string(),
  }),
  perMinute: 20,
});
