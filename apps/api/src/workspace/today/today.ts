import type { CauseKind, PageKind, Permission } from '@huelot/contracts';
import { actorMay, type Actor } from '../../kernel/actor.ts';
import type { Db, SqlExecutor } from '../../db/client.ts';
import { readStoppedBaths } from '../../lab/dashboard/index.ts';
import { readExpired } from '../../colour/calibrations/index.ts';
import { readExposureReminders } from '../../colour/exposure-tests/index.ts';
import { readReminders } from '../../lab/reminders/index.ts';
import { readAssessmentOffers } from '../../quality/impact-assessments/index.ts';
import { MAX_WAITING, readDay, waiting } from './queries.ts';

interface Heading {
  key: keyof typeof waiting;
  /** Any of these. */
  needs: readonly Permission[];
  title: string;
  empty: string;
}

/** Who sees which heading, in the order of the day. */
const headings: Heading[] = [
  { key: 'holds', needs: ['lots.unhold'], title: 'Lots on hold', empty: 'No lot is on hold.' },
  {
    key: 'parkedSignOffs',
    needs: ['steps.settle'],
    title: 'Signed offline and refused',
    empty: 'No sign-off waits for a decision.',
  },
  {
    key: 'bathHolds',
    needs: ['steps.sign', 'lab.override'],
    title: 'Baths on hold',
    empty: 'No bath is on hold.',
  },
  {
    key: 'toOrder',
    needs: ['lab.write'],
    title: 'Chemicals to order',
    empty: 'Every chemical is above its reorder point.',
  },
  {
    key: 'steps',
    needs: ['steps.sign'],
    title: 'Steps ready at the tanks',
    empty: 'No step waits. Released lots show here with their next step.',
  },
  {
    key: 'checks',
    needs: ['inspection.write'],
    title: 'Waiting for the final check',
    empty: 'No lot waits for the final check.',
  },
  {
    key: 'releases',
    needs: ['lots.release'],
    title: 'To release',
    empty: 'Every ordered piece is in a lot.',
  },
  {
    key: 'shipments',
    needs: ['shipping.write'],
    title: 'To ship',
    empty: 'Nothing accepted waits to be shipped.',
  },
  {
    key: 'certificates',
    needs: ['inspection.write'],
    title: 'Certificates to sign',
    empty: 'Every shipment that was promised a certificate has one.',
  },
  {
    key: 'deliveryNotes',
    needs: ['shipping.write'],
    title: 'Delivery notes to write',
    empty: 'Every shipment is on a delivery note.',
  },
  {
    key: 'overdueInvoices',
    needs: ['invoices.write'],
    title: 'Overdue invoices',
    empty: 'No invoice is overdue.',
  },
  {
    key: 'nonconformances',
    needs: ['inspection.write'],
    title: 'Open nonconformances',
    empty: 'Every nonconformance is closed.',
  },
  {
    key: 'assessments',
    needs: ['inspection.write'],
    title: 'Open impact assessments',
    empty: 'Every impact assessment is closed.',
  },
  {
    key: 'stoppedInspections',
    needs: ['inspection.write'],
    title: 'Inspections discontinued',
    empty: 'No inspection is discontinued.',
  },
  {
    key: 'actions',
    needs: ['lots.hold'],
    title: 'Actions against causes',
    empty: 'No action of yours is due within a week.',
  },
  {
    key: 'deliveries',
    needs: ['orders.read'],
    title: 'Due within a week',
    empty: 'Nothing is due within a week.',
  },
  {
    key: 'enquiries',
    needs: ['enquiries.write'],
    title: 'Enquiries without an answer',
    empty: 'No enquiry waits longer than three days for an answer.',
  },
  {
    key: 'borrowedSamples',
    needs: ['enquiries.write'],
    title: 'Borrowed samples to give back',
    empty: 'No borrowed sample is due back within a week.',
  },
  {
    key: 'trialsAsked',
    needs: ['coupons.write'],
    title: 'Trials asked for',
    empty: 'Nobody waits for a trial without coupons.',
  },
  {
    key: 'quotations',
    needs: ['quotations.write'],
    title: 'Quotations about to expire',
    empty: 'No sent quotation expires within ten days.',
  },
  {
    key: 'expiredQuotations',
    needs: ['quotations.write'],
    title: 'Expired quotations without an answer',
    empty: 'No sent quotation has expired.',
  },
  {
    key: 'evidence',
    needs: ['coupons.write', 'quotations.write', 'lots.release'],
    title: 'Evidence about to expire',
    empty: 'No evidence behind a recipe expires within a month.',
  },
  {
    key: 'colourStandards',
    needs: ['standards.write', 'quotations.write', 'lots.release'],
    title: 'Colour standards about to expire',
    empty: 'No colour standard expires within a month.',
  },
  {
    key: 'colourMeters',
    needs: ['lab.write', 'quotations.write', 'lots.release'],
    title: 'Colour meters to calibrate',
    empty: 'No colour meter is due for calibration within a fortnight.',
  },
  {
    key: 'competence',
    needs: ['competence.write'],
    title: 'Competence that ends',
    empty: 'Nobody’s competence ends within a month.',
  },
  {
    key: 'instruments',
    needs: ['lab.write', 'inspection.write'],
    title: 'Instruments to calibrate',
    empty: 'No instrument has failed or is due for calibration within a fortnight.',
  },
  {
    key: 'unconfirmedStandards',
    needs: ['standards.approve'],
    title: 'Colour standards that nobody confirmed',
    empty: 'Every colour standard that was taken over is confirmed.',
  },
  {
    key: 'approvals',
    needs: ['recipes.approve'],
    title: 'Recipes to approve',
    empty: 'No draft of somebody else waits for approval.',
  },
];

/** What waits for whoever asks: only headings they can act on. */
export async function readToday(db: Db, actor: Actor) {
  const day = await readDay(db.execute);
  const mine = headings.filter(({ needs }) => needs.some((permission) => actorMay(actor, permission)));
  const sections = await Promise.all(
    mine.map(async ({ key, title, empty }) => {
      const rows = await waiting[key](db.execute, day, actor.personId);
      return {
        key,
        title,
        empty,
        total: rows[0]?.total ?? 0,
        items: rows.map(({ total: _total, colour = null, ...item }) => ({ ...item, colour })),
      };
    }),
  );
  const lab = actorMay(actor, 'lab.write') ? [await labSection(db.execute)] : [];
  const stopped = actorMay(actor, 'lab.override') ? [await stoppedSection(db.execute)] : [];
  const offers = actorMay(actor, 'inspection.write') ? [await offersSection(db.execute)] : [];
  const coupons = actorMay(actor, 'coupons.write')
    ? [await exposureSection(db.execute, actor), await expiredSection(db.execute)]
    : [];
  return { day, sections: [...stopped, ...offers, ...lab, ...coupons, ...sections] };
}

/** What the wet lab has to do, the most urgent first. */
async function labSection(execute: SqlExecutor) {
  const reminders = await readReminders(execute);
  return {
    key: 'lab',
    title: 'Wet lab',
    empty: 'No analysis is due and no addition waits.',
    total: reminders.length,
    items: reminders.slice(0, MAX_WAITING).map(({ bathId, tankCode, title, detail, dueAt, overdue }) => ({
      page: { kind: 'bath' as const, id: bathId },
      title: `${tankCode}: ${title}`,
      detail,
      when: dueAt,
      urgent: overdue,
      colour: null,
    })),
  };
}

/** Baths past a stop limit: nothing is signed in them without an override. */
async function stoppedSection(execute: SqlExecutor) {
  const baths = await readStoppedBaths(execute);
  return {
    key: 'stoppedBaths',
    title: 'Stopped baths',
    empty: 'No bath is past a stop limit.',
    total: baths.length,
    items: baths.slice(0, MAX_WAITING).map(({ id, number, tankCode, reasons }) => ({
      page: { kind: 'bath' as const, id },
      title: `${tankCode}, ${number}`,
      detail: reasons.join('; '),
      when: null,
      urgent: true,
      colour: null,
    })),
  };
}

const assessed: Record<CauseKind, PageKind> = {
  'bath-stop': 'stopToAssess',
  'calibration-failed': 'calibrationToAssess',
  'analysis-corrected': 'analysisToAssess',
  'colour-corrected': 'colourToAssess',
  'step-corrected': 'stepToAssess',
};

/** What turned out wrong and may have touched lots: nobody has opened an assessment of it or said why none is needed. */
async function offersSection(execute: SqlExecutor) {
  const offers = await readAssessmentOffers(execute);
  return {
    key: 'assessmentOffers',
    title: 'Impact to assess',
    empty: 'Nothing turned out wrong that nobody has assessed.',
    total: offers.length,
    items: offers.slice(0, MAX_WAITING).map(({ kind, cause, title, detail, at }) => ({
      page: { kind: assessed[kind], id: Number(cause.slice(kind.length + 1)) },
      ...{ title, detail, when: at, urgent: true, colour: null },
    })),
  };
}

/** Tests of protection: specimens to look at, chambers outside their range, tests that have their hours. */
async function exposureSection(execute: SqlExecutor, { personId }: Actor) {
  const reminders = await readExposureReminders(execute, personId);
  return {
    key: 'exposureTests',
    title: 'Exposure tests',
    empty: 'No specimen waits to be looked at.',
    total: reminders.length,
    items: reminders.slice(0, MAX_WAITING).map(({ id, ...reminder }) => ({
      ...reminder,
      page: { kind: 'exposureTest' as const, id },
      colour: null,
    })),
  };
}

/** Calibrations whose law what was measured since has left: nobody drafts a recipe by them any more. */
async function expiredSection(execute: SqlExecutor) {
  const expired = await readExpired(execute);
  return {
    key: 'expiredCalibrations',
    title: 'Calibrations that have drifted',
    empty: 'Every approved calibration agrees with what was measured since.',
    total: expired.length,
    items: expired.slice(0, MAX_WAITING).map(({ id, code, revision, name, author, expiredAt }) => ({
      page: { kind: 'calibration' as const, id },
      title: `${code} rev ${revision}, ${name}`,
      detail: `Of ${author}: coat new coupons and calibrate again`,
      when: expiredAt,
      urgent: true,
      colour: null,
    })),
  };
}
