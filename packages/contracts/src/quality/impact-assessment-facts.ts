import { z } from 'zod';
import { Count, Day, Id, Instant, SystemOfUnits } from '../kernel/scalars.ts';
import { LotStatus } from '../production/lots.ts';
import { LookBackSubject, LookBackTie } from './look-back.ts';

export const AssessmentState = z.enum(['open', 'closed']);
export type AssessmentState = z.output<typeof AssessmentState>;

/** What in the record can turn out wrong by itself, so that an assessment of it is offered. */
export const CauseKind = z.enum([
  'bath-stop',
  'calibration-failed',
  'analysis-corrected',
  'colour-corrected',
  'step-corrected',
]);
export type CauseKind = z.output<typeof CauseKind>;

/** `bath-stop-12`: kind and key of the record that offers it, in one. */
export const Cause = z
  .string()
  .regex(new RegExp(`^(?:${CauseKind.options.join('|')})-[1-9]\\d{0,8}$`), 'must look like bath-stop-12');

const Ref = z.object({ id: Id, number: z.string() });
const Shipped = z.object({ number: z.string(), quantity: Count, shippedAt: Instant });

/** What is said of a lot: what it is, whose, and what has left the house of it. */
export const AssessedLotFacts = z
  .object({
    number: z.string(),
    customer: Ref.extend({ name: z.string() }),
    order: z.object({ number: z.string(), customerOrderNumber: z.string() }),
    part: z.string(),
    quantity: Count,
    status: LotStatus,
    held: z.boolean(),
    shipments: z.array(Shipped),
    /** Certificates that stand. */
    certificates: z.array(Ref.extend({ revision: z.int() })),
  })
  .meta({ id: 'AssessedLotFacts' });
export type AssessedLotFacts = z.output<typeof AssessedLotFacts>;

export const LotJudgement = z.object({
  affected: z.boolean(),
  text: z.string(),
  by: z.string(),
  at: Instant,
});
export type LotJudgement = z.output<typeof LotJudgement>;

export const AssessedLot = z
  .object({
    lotId: Id,
    /** As it was when the lot came under assessment. */
    facts: AssessedLotFacts,
    ties: z.array(LookBackTie),
    /** Of one that was added by hand. */
    why: z.string(),
    /** As it is now. */
    held: z.boolean(),
    status: LotStatus,
    shippedCount: Count,
    /** The newest one stands. */
    judgements: z.array(LotJudgement),
    nonconformances: z.array(Ref),
  })
  .meta({ id: 'AssessedLot' });
export type AssessedLot = z.output<typeof AssessedLot>;

/** What a letter to a customer says beside its words, all of it from the record. */
export const LetterFacts = z
  .object({
    shop: z.object({
      name: z.string(),
      address: z.string(),
      contact: z.string(),
      timeZone: z.string(),
      units: SystemOfUnits,
    }),
    customer: Ref.extend({ name: z.string() }),
    address: z.string(),
    assessment: z.string(),
    lots: z.array(
      z.object({
        number: z.string(),
        order: z.string(),
        customerOrderNumber: z.string(),
        part: z.string(),
        shipments: z.array(Shipped),
        certificates: z.array(z.string()),
      }),
    ),
  })
  .meta({ id: 'LetterFacts' });
export type LetterFacts = z.output<typeof LetterFacts>;

export const AssessmentLetter = z
  .object({
    id: Id,
    number: z.string(),
    customerId: Id,
    lots: z.array(z.string()),
    signedBy: z.string(),
    signedAt: Instant,
  })
  .meta({ id: 'AssessmentLetter' });
export type AssessmentLetter = z.output<typeof AssessmentLetter>;

/** A customer who has pieces of a lot that was judged affected. */
export const AffectedCustomer = z
  .object({
    id: Id,
    name: z.string(),
    /** Affected lots of which something was shipped. */
    lots: z.array(z.string()),
    pieces: Count,
    letters: z.array(AssessmentLetter),
    /** Why no letter goes to them. */
    noLetter: z.array(z.object({ text: z.string(), by: z.string(), at: Instant })),
    /** Affected lots that no letter names and no reason covers. */
    untold: z.array(z.string()),
  })
  .meta({ id: 'AffectedCustomer' });
export type AffectedCustomer = z.output<typeof AffectedCustomer>;

export const AssessmentItem = z
  .object({
    id: Id,
    number: z.string(),
    state: AssessmentState,
    aboutName: z.string(),
    reason: z.string(),
    owner: z.object({ id: Id, name: z.string() }),
    dueOn: Day,
    overdueDays: Count,
    lots: Count,
    judged: Count,
    affected: Count,
    openedBy: z.string(),
    openedAt: Instant,
  })
  .meta({ id: 'AssessmentItem' });
export type AssessmentItem = z.output<typeof AssessmentItem>;

export const ImpactAssessment = AssessmentItem.extend({
  /** What was asked when it was opened; null where it was opened empty. */
  about: LookBackSubject.nullable(),
  from: Day.nullable(),
  to: Day.nullable(),
  assessed: z.array(AssessedLot),
  customers: z.array(AffectedCustomer),
  holds: z.array(z.object({ lotId: Id, text: z.string(), by: z.string(), at: Instant })),
  closed: z.object({ text: z.string(), by: z.string(), at: Instant }).nullable(),
  /** What it takes before it can be closed; empty where nothing is missing. */
  missing: z.array(z.string()),
}).meta({ id: 'ImpactAssessment' });
export type ImpactAssessment = z.output<typeof ImpactAssessment>;

/** Something in the record that calls for an assessment, until one is opened or somebody says why none is needed. */
export const AssessmentOffer = z
  .object({
    cause: Cause,
    kind: CauseKind,
    title: z.string(),
    detail: z.string(),
    at: Instant,
    about: LookBackSubject.nullable(),
    from: Day.nullable(),
    to: Day.nullable(),
    /** Where one lot alone is concerned. */
    lotId: Id.nullable(),
  })
  .meta({ id: 'AssessmentOffer' });
export type AssessmentOffer = z.output<typeof AssessmentOffer>;
