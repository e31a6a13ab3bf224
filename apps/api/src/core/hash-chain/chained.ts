/** What the chain covers of one table: a record as it was issued, or what was decided of it once. */
export interface Chained {
  table: string;
  /** Why it is chained, and what the entry holds: `issue`, or a later event that is then kept as well. */
  part: string;
  /** What people call a record of the table. */
  name: string;
  /** SQL over the row `t`: whether the part stands. Without it, it stands from the first. */
  when?: string;
  /** The columns covered: all of them without `only` and `except`. `snapshot - a,b` leaves keys of a document out. */
  only?: readonly string[];
  except?: readonly string[];
  /** Keys of the document `snapshot` that may still be written. */
  later?: readonly string[];
  /** SQL over the row `t`: how people know the record. */
  label?: string;
  /** Rows that are issued with another: which of this table belong to the records `$1` of that one. */
  issuedWith?: { table: string; find: string };
  /** The column in which a record says when it was written; it cannot be long before the entry. */
  writtenAt?: string;
}

const always = (table: string, name: string, extra: Partial<Chained> = {}): Chained => ({
  ...{ table, part: 'issue', name },
  ...extra,
});

const recipeFate = ['status', 'supersededAt', 'version'];
const seriesFate = ['status', 'endedAt', 'endReason', 'version'];
const trialFate = [
  ...['state', 'bathId', 'bathState', 'bathReasons', 'strength', 'analysisId', 'signedById', 'signedAt'],
  ...['areaMm2', 'reason', 'note', 'withdrawnById', 'withdrawnAt', 'withdrawReason', 'version'],
];
const withdrawal = ['withdrawnById', 'withdrawnAt', 'withdrawReason'];
const review = ['reviewedById', 'reviewedAt'];
const voiding = ['voidedById', 'voidedAt', 'voidReason'];
const release = ['releasedAt', 'releasedById', 'temperatureC', 'mixedS', 'analysisId', 'releaseNote'];
const settling = ['decision', 'decidedById', 'decidedAt', 'decisionReason', 'signOffId'];
const addition = [
  ...[
    'state',
    'doneById',
    'checkedById',
    'startedAt',
    'finishedAt',
    'temperatureBeforeC',
    'temperatureAfterC',
  ],
  ...[
    'volumeBeforeL',
    'volumeAfterL',
    'doneReason',
    'doneQuestions',
    'notes',
    'withdrawnById',
    'withdrawReason',
  ],
];
const exposureFate = [
  'state',
  'endedById',
  'endedAt',
  'endDay',
  'verdict',
  'result',
  'calcVersion',
  'version',
];
const numbered = `t."number"`;
const revised = `t."number" || ' revision ' || t."revision"`;
const coded = `t."code" || ' revision ' || t."revision"`;
const standardCode = `(select s."code" from "colour_standard" s where s."id" = t."standardId") || ' revision ' || t."revision"`;
const lotNumber = `(select l."number" from "lot" l where l."id" = t."lotId")`;
const noteNumber = `(select n."number" from "delivery_note" n where n."id" = t."noteId")`;
const invoiceNumber = `(select i."number" from "invoice" i where i."id" = t."invoiceId")`;
const inspectedPart = `(select p."number" from "part" p where p."id" = t."partId")`;
const inspectedLot = `(select l."number" from "lot" l where l."id" = t."lotId")`;
const nonconformanceNumber = `(select n."number" from "nonconformance" n where n."id" = t."nonconformanceId")`;
const assessmentNumber = `(select a."number" from "impact_assessment" a where a."id" = t."assessmentId")`;
const exposureNumber = `(select e."number" from "exposure_test" e where e."id" = t."testId")`;
const instrumentCode = `(select i."code" from "instrument" i where i."id" = t."instrumentId")`;
const bathNumber = `(select b."number" from "bath" b where b."id" = t."bathId")`;

/**
 * Everything that is chained, and all that there is. A test compares it with the tables that the database freezes.
 * The columns are those that nothing changes once the part stands.
 */
export const chained: readonly Chained[] = [
  always('audit_entry', 'entry of the audit trail', { writtenAt: 'at' }),
  always('exchange_rate', 'rate of exchange'),
  always('rate_card', 'rate card', { label: `'revision ' || t."revision"` }),

  always('recipe_revision', 'recipe revision', {
    when: `t."status" <> 'draft'`,
    except: recipeFate,
    label: `(select r."number" from "recipe" r where r."id" = t."recipeId") || ' revision ' || t."revision"`,
  }),
  {
    ...{ table: 'recipe_revision', part: 'end', name: 'end of a recipe revision' },
    when: `t."status" in ('superseded', 'withdrawn')`,
    only: ['status', 'supersededAt'],
  },
  always('recipe_step', 'step of a recipe revision', {
    when: `exists (select from "recipe_revision" r where r."id" = t."revisionId" and r."status" <> 'draft')`,
    issuedWith: { table: 'recipe_revision', find: `"revisionId" = any($1::bigint[])` },
  }),

  always('quotation_revision', 'quotation revision', {
    when: `t."status" <> 'draft'`,
    except: ['status', 'decidedAt', 'decidedById', 'decisionReason', 'version', 'internalNotes'],
    later: ['decidedBy'],
    label: `(select q."number" from "quotation" q where q."id" = t."quotationId") || ' revision ' || t."revision"`,
  }),
  always('quotation_line', 'line of a quotation', {
    when: `exists (select from "quotation_revision" r where r."id" = t."revisionId" and r."status" <> 'draft')`,
    issuedWith: { table: 'quotation_revision', find: `"revisionId" = any($1::bigint[])` },
  }),
  always('quotation_break', 'price of a quotation', {
    when: `exists (select from "quotation_line" l join "quotation_revision" r on r."id" = l."revisionId"
                    where l."id" = t."lineId" and r."status" <> 'draft')`,
    issuedWith: {
      table: 'quotation_revision',
      find: `"lineId" in (select "id" from "quotation_line" where "revisionId" = any($1::bigint[]))`,
    },
  }),

  always('customer_order', 'order', {
    only: ['number', 'createdById', 'createdAt', 'snapshot'],
    label: numbered,
  }),
  always('order_line', 'line of an order', {
    only: ['orderId', 'partId', 'snapshot'],
    later: ['recipe', 'receivedBy'],
    label: `(select o."number" from "customer_order" o where o."id" = t."orderId")`,
  }),
  always('order_receipt', 'receipt of a line of an order'),
  always('lot', 'lot', {
    only: ['number', 'orderLineId', 'partId', 'createdById', 'createdAt', 'snapshot'],
    later: ['recipe', 'rack', 'supply'],
    label: numbered,
  }),
  always('lot_hold', 'hold of a lot', {
    except: ['releasedById', 'releasedAt', 'releaseReason'],
    later: ['releasedBy'],
    label: lotNumber,
  }),
  {
    ...{ table: 'lot_hold', part: 'release', name: 'release of a lot' },
    when: `t."releasedAt" is not null`,
    only: ['releasedById', 'releasedAt', 'releaseReason', 'snapshot'],
    label: lotNumber,
  },

  always('traveler', 'traveler', { except: ['status'], label: revised }),
  {
    ...{ table: 'traveler', part: 'end', name: 'end of a traveler' },
    when: `t."status" <> 'issued'`,
    only: ['status'],
    label: revised,
  },
  always('traveler_step', 'step of a traveler'),
  always('step_run', 'In of a step', { only: ['stepId', 'inAt', 'inById', 'snapshot'], later: ['outBy'] }),
  {
    ...{ table: 'step_run', part: 'out', name: 'Out of a step' },
    when: `t."outAt" is not null`,
    only: ['outAt', 'outById', 'snapshot'],
  },
  {
    ...{ table: 'step_run', part: 'set-back', name: 'In or Out that was set back' },
    when: `t."setBackAt" is not null`,
    only: ['setBackAt', 'setBackById'],
  },
  always('step_override', 'override of a bath', { except: ['signOffId'] }),
  {
    ...{ table: 'step_override', part: 'use', name: 'use of an override' },
    when: `t."signOffId" is not null`,
    only: ['signOffId'],
  },
  always('step_sign_off', 'signature of a step', { label: lotNumber }),
  always('step_reading', 'reading of a signed step'),
  always('step_correction', 'correction of a signed step'),
  always('step_count_correction', 'correction of the pieces of a signed step'),
  always('step_done_correction', 'correction of a step signed by mistake'),
  always('colour_reading', 'colour reading', { label: lotNumber }),
  always('parked_sign_off', 'parked signature', {
    except: settling,
    later: ['decidedBy'],
    label: lotNumber,
  }),
  {
    ...{ table: 'parked_sign_off', part: 'decision', name: 'decision on a parked signature' },
    when: `t."decision" is not null`,
    only: [...settling, 'snapshot'],
    label: lotNumber,
  },
  always('final_check', 'final check', { label: lotNumber }),
  always('shipment', 'shipment', { label: numbered }),
  always('certificate', 'certificate', { except: withdrawal, later: ['withdrawnBy'], label: revised }),
  {
    ...{ table: 'certificate', part: 'end', name: 'withdrawal of a certificate' },
    when: `t."withdrawnAt" is not null`,
    only: [...withdrawal, 'snapshot'],
    label: revised,
  },
  always('delivery_note', 'delivery note', { except: withdrawal, later: ['withdrawnBy'], label: numbered }),
  {
    ...{ table: 'delivery_note', part: 'end', name: 'withdrawal of a delivery note' },
    when: `t."withdrawnAt" is not null`,
    only: [...withdrawal, 'snapshot'],
    label: numbered,
  },
  always('delivery_line', 'shipment on a delivery note', { label: noteNumber }),
  always('goods_return', 'return of goods', {
    except: withdrawal,
    later: ['withdrawnBy'],
    label: noteNumber,
  }),
  {
    ...{ table: 'goods_return', part: 'end', name: 'withdrawal of a return' },
    when: `t."withdrawnAt" is not null`,
    only: [...withdrawal, 'snapshot'],
    label: noteNumber,
  },
  always('invoice', 'invoice', { when: `t."issuedAt" is not null`, label: numbered }),
  always('invoice_line', 'line of an invoice', {
    when: `exists (select from "invoice" i where i."id" = t."invoiceId" and i."issuedAt" is not null)`,
    issuedWith: { table: 'invoice', find: `"invoiceId" = any($1::bigint[])` },
    label: invoiceNumber,
  }),
  always('payment', 'payment', { except: withdrawal, later: ['withdrawnBy'], label: invoiceNumber }),
  {
    ...{ table: 'payment', part: 'end', name: 'withdrawal of a payment' },
    when: `t."withdrawnAt" is not null`,
    only: [...withdrawal, 'snapshot'],
    label: invoiceNumber,
  },
  always('nonconformance', 'nonconformance', { except: ['state'], label: numbered }),
  always('nonconformance_disposition', 'disposition of a nonconformance', { label: nonconformanceNumber }),
  always('inspection_plan', 'inspection plan', { label: inspectedPart }),
  always('inspection_characteristic', 'characteristic of an inspection plan'),
  always('inspection', 'inspection', { label: inspectedLot }),
  always('inspection_severity', 'move of inspection severity'),
  always('nonconformance_entry', 'entry of a nonconformance', { label: nonconformanceNumber }),
  always('impact_assessment', 'impact assessment', {
    except: ['ownerId', 'dueOn', 'state'],
    later: ['owner'],
    label: numbered,
  }),
  always('assessment_lot', 'lot under assessment', { label: assessmentNumber }),
  always('assessment_letter', 'letter to a customer', { label: numbered }),
  always('assessment_entry', 'entry of an impact assessment', { label: assessmentNumber }),
  always('assessment_dismissal', 'offer that needs no assessment', { label: `t."title"` }),
  // Its bytes are compared with the SHA-256 in the row.
  always('issued_paper', 'issued paper', { except: ['bytes'], label: `t."title"` }),

  always('file', 'attached file', { when: `t."attachedAt" is not null`, label: `t."name"` }),
  always('bath', 'dumped bath', { when: `t."dumpedAt" is not null`, label: numbered }),
  always('bath_setup', 'revision of how a bath is watched', { label: bathNumber }),
  always('bath_request', 'closed request for an analysis', {
    when: `t."closedAt" is not null`,
    label: bathNumber,
  }),
  always('bath_hold', 'hold of a bath', { except: release, later: ['releasedBy'], label: bathNumber }),
  {
    ...{ table: 'bath_hold', part: 'release', name: 'release of a bath' },
    when: `t."releasedAt" is not null`,
    only: [...release, 'snapshot'],
    label: bathNumber,
  },
  always('chart_baseline', 'chosen baseline'),

  always('analysis_method', 'method', {
    when: `t."status" <> 'draft'`,
    except: ['status', 'version'],
    label: coded,
  }),
  {
    ...{ table: 'analysis_method', part: 'end', name: 'end of a method' },
    when: `t."status" = 'superseded'`,
    only: ['status'],
    label: coded,
  },
  always('standardisation', 'standardisation'),
  always('instrument_calibration', 'calibration of an instrument', { label: instrumentCode }),
  always('analysis', 'analysis', {
    except: [...review, ...voiding],
    later: ['reviewedBy', 'voidedBy'],
    label: numbered,
  }),
  {
    ...{ table: 'analysis', part: 'review', name: 'review of an analysis' },
    when: `t."reviewedAt" is not null`,
    only: [...review, 'snapshot'],
    later: ['voidedBy'],
    label: numbered,
  },
  {
    ...{ table: 'analysis', part: 'void', name: 'voiding of an analysis' },
    when: `t."voidedAt" is not null`,
    only: [...voiding, 'snapshot'],
    later: ['reviewedBy'],
    label: numbered,
  },
  always('analysis_result', 'result of an analysis'),
  always('addition', 'addition', {
    except: addition,
    later: ['doneBy', 'checkedBy', 'withdrawnBy'],
    label: numbered,
  }),
  {
    ...{ table: 'addition', part: 'end', name: 'carrying out or withdrawal of an addition' },
    when: `t."state" <> 'planned'`,
    only: [...addition, 'snapshot'],
    label: numbered,
  },
  always('addition_line', 'line of an addition'),
  always('stock_movement', 'movement of stock'),

  always('colour_standard_revision', 'colour standard', {
    when: `t."status" <> 'draft'`,
    except: seriesFate,
    label: standardCode,
  }),
  {
    ...{ table: 'colour_standard_revision', part: 'end', name: 'end of a colour standard' },
    when: `t."status" in ('superseded', 'retired')`,
    only: ['status', 'endedAt', 'endReason'],
    label: standardCode,
  },
  always('colour_standard_confirmation', 'confirmation of a colour standard', {
    label: `(select s."code" || ' revision ' || r."revision" from "colour_standard_revision" r
              join "colour_standard" s on s."id" = r."standardId" where r."id" = t."revisionId")`,
  }),
  always('coupon_series', 'series of coupons', {
    when: `t."status" <> 'draft'`,
    except: seriesFate,
    label: coded,
  }),
  {
    ...{ table: 'coupon_series', part: 'end', name: 'end of a series of coupons' },
    when: `t."status" in ('superseded', 'retired')`,
    only: ['status', 'endedAt', 'endReason'],
    label: coded,
  },
  always('coupon_trial', 'trial of a series of coupons', {
    when: `exists (select from "coupon_series" s where s."id" = t."seriesId" and s."status" <> 'draft')`,
    issuedWith: { table: 'coupon_series', find: `"seriesId" = any($1::bigint[])` },
  }),
  always('coupon_photo', 'photo of a strip of coupons', {
    when: `exists (select from "coupon_series" s where s."id" = t."seriesId" and s."status" <> 'draft')`,
    issuedWith: { table: 'coupon_series', find: `"seriesId" = any($1::bigint[])` },
  }),
  always('calibration', 'calibration', { when: `t."status" <> 'draft'`, except: seriesFate, label: coded }),
  {
    ...{ table: 'calibration', part: 'end', name: 'end of a calibration' },
    when: `t."status" in ('superseded', 'retired')`,
    only: ['status', 'endedAt', 'endReason'],
    label: coded,
  },
  always('trial_run', 'plan of a trial', {
    except: trialFate,
    later: ['signedBy', 'withdrawnBy', 'bath'],
    label: numbered,
  }),
  {
    ...{ table: 'trial_run', part: 'end', name: 'signature or withdrawal of a trial' },
    when: `t."state" in ('signed', 'withdrawn')`,
    only: [...trialFate, 'snapshot'],
    label: numbered,
  },
  always('trial_event', 'stamp of a trial'),
  always('trial_piece', 'coupon or band of a trial'),
  always('recipe_evidence', 'evidence of a recipe', {
    when: `not t."citedInDraft"`,
    except: withdrawal,
    later: ['withdrawnBy'],
  }),
  {
    ...{ table: 'recipe_evidence', part: 'approval', name: 'evidence that a recipe was approved on' },
    when: `t."citedInDraft" and exists (select from "recipe_revision" r where r."id" = t."revisionId" and r."status" <> 'draft')`,
    except: withdrawal,
    later: ['withdrawnBy'],
    issuedWith: { table: 'recipe_revision', find: `"revisionId" = any($1::bigint[])` },
  },
  {
    ...{ table: 'recipe_evidence', part: 'end', name: 'withdrawal of evidence' },
    when: `t."withdrawnAt" is not null`,
    only: [...withdrawal, 'snapshot'],
  },
  always('process_import', 'recipe taken over from another shop', { label: `t."recipe"` }),
  always('polarization_scan', 'polarization scan', { label: numbered }),
  always('film_measurement', 'film measurement', { label: numbered }),
  always('exposure_test', 'exposure test', {
    when: `t."state" <> 'planned'`,
    except: exposureFate,
    later: ['endedBy'],
    label: numbered,
  }),
  {
    ...{ table: 'exposure_test', part: 'end', name: 'end of an exposure test' },
    when: `t."state" in ('ended', 'withdrawn')`,
    only: [...exposureFate, 'snapshot'],
    label: numbered,
  },
  always('exposure_specimen', 'specimen of an exposure test', {
    when: `exists (select from "exposure_test" e where e."id" = t."testId" and e."state" <> 'planned')`,
    issuedWith: { table: 'exposure_test', find: `"testId" = any($1::bigint[])` },
  }),
  always('exposure_observation', 'observation of a specimen', { label: exposureNumber }),
  always('exposure_correction', 'correction of an observation'),
  always('exposure_reading', 'reading of a chamber', { label: exposureNumber }),
  always('exposure_interruption', 'interruption of an exposure test', {
    except: ['toAt', 'endedById', 'endedAt'],
    later: ['endedBy'],
    label: exposureNumber,
  }),
  {
    ...{ table: 'exposure_interruption', part: 'end', name: 'end of an interruption' },
    when: `t."toAt" is not null`,
    only: ['toAt', 'endedById', 'endedAt', 'snapshot'],
    label: exposureNumber,
  },
  always('enquiry_decision', 'decision on an enquiry', {
    label: `(select e."number" from "enquiry" e where e."id" = t."enquiryId")`,
  }),
  always('competence', 'competence of a person', { except: withdrawal, later: ['withdrawnBy'] }),
  {
    ...{ table: 'competence', part: 'end', name: 'withdrawal of a competence' },
    when: `t."withdrawnAt" is not null`,
    only: [...withdrawal, 'snapshot'],
  },
  always('competence_override', 'word for work outside competence'),
  always('evidence_exception', 'exception from evidence', { label: `t."recordNumber"` }),
];

/** Tables that are frozen and have no entries of their own, and why. */
export const chainedOtherwise: Readonly<Record<string, string>> = {
  file_chunk: 'the content of a file is compared with the SHA-256 in the chained row of the file',
  part: 'what was issued of a part is in the snapshots of what was issued',
  part_zone: 'what was issued of the zones of a part is in the snapshots of the part',
  recipe: 'what was issued of a recipe is in its revisions and in the snapshots',
  chemical_lot: 'who received it is in the audit trail, and what became of it in its movements',
  shop: 'what was issued of the shop is in the snapshots of what was issued',
  number_series: 'a series only rises; the numbers given are in the records',
  chain_form: 'a form is part of the digest of every entry that uses it',
  chain_link: 'the chain itself',
  chain_seal: 'a seal is compared with the entry that it names',
};
