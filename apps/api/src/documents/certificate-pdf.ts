import {
  colourGradeNames,
  standardWords,
  toleranceWords,
  type Certificate,
  type CertifiedFacts,
} from '@huelot/contracts';
import QRCode from 'qrcode';
import { swatches } from './agreed-colour.ts';
import { dayText, instantText } from './figures.ts';
import {
  closeDocument,
  facts as factList,
  filmStrip,
  heading,
  inks,
  leftOf,
  needRoom,
  openDocument,
  table,
  widthOf,
  write,
} from './page-parts.ts';

/** What the paper of a certificate is drawn from: the record as it was signed, and nothing that moves on. */
export interface PrintedCertificate {
  certificate: Pick<
    Certificate,
    'number' | 'revision' | 'statement' | 'deviations' | 'jobTitle' | 'replaces' | 'reason' | 'signedBy'
  >;
  facts: CertifiedFacts;
  signedAt: string;
  /** Where whoever holds a copy asks whether it stands. */
  check: { code: string; url: string };
}
type Doc = ReturnType<typeof openDocument>;

const QR_POINTS = 76;

/** A certificate of conformance: whose goods, what was done and found, who answers for it, and how to check the copy. */
export async function certificatePdf(paper: PrintedCertificate): Promise<Buffer> {
  const { certificate, facts, signedAt } = paper;
  const { shop } = facts;
  const name = `${certificate.number} revision ${certificate.revision}`;
  const sheet = {
    title: `Certificate of conformance ${name}`,
    author: shop.name,
    foot: `${shop.name} · signed ${instantText(signedAt, shop.timeZone)}`,
    madeAt: new Date(signedAt),
    size: shop.units === 'us' ? ('LETTER' as const) : ('A4' as const),
  };
  const doc = openDocument(sheet);
  filmStrip(doc);
  await head(doc, paper, name);
  goods(doc, facts);
  characteristics(doc, facts);
  inspection(doc, facts);
  colour(doc, facts);
  signed(doc, paper);
  return closeDocument(doc, sheet);
}

async function head(doc: Doc, { certificate, facts: { shop }, check }: PrintedCertificate, name: string) {
  const top = doc.y;
  const png = await QRCode.toBuffer(check.url, { errorCorrectionLevel: 'M', margin: 0, width: 420 });
  doc.image(png, leftOf() + widthOf(doc) - QR_POINTS, top, { width: QR_POINTS });
  const width = widthOf(doc) - QR_POINTS - 16;
  write(doc, shop.name, { face: 'strong', size: 11, gap: 0, width, y: top });
  write(doc, [shop.address, shop.contact].filter(Boolean).join('\n'), {
    ...{ size: 9, colour: inks.soft, gap: 6, width },
  });
  write(doc, 'Certificate of conformance', { face: 'strong', size: 20, gap: 0, width });
  write(doc, name, { face: 'figure', size: 13, gap: 2, width });
  const { replaces, reason } = certificate;
  if (replaces !== null)
    write(doc, `Replaces revision ${replaces.revision}, which does not stand any more: ${reason}`, {
      ...{ face: 'strong', gap: 2, width },
    });
  doc.y = Math.max(doc.y, top + QR_POINTS) + 8;
}

function goods(doc: Doc, facts: CertifiedFacts): void {
  const { customer, order, part, lot, recipe, shipment, shop, processed } = facts;
  const day = (at: string) => dayText(at.slice(0, 10));
  factList(doc, [
    ['Customer', `${customer.number} ${customer.name}`],
    ['Order, line', `${order.number} line ${order.line}`],
    ['Their order', order.customerOrderNumber],
    ['Part, drawing revision', `${part.number} revision ${part.revision}`],
    ['Description', part.description],
    ['Base metal, as stated by the customer', facts.material],
    ['Quantity certified', `${shipment.quantity} pieces`],
    ['Shipped', `${shipment.number}, ${instantText(shipment.shippedAt, shop.timeZone)}`],
    ['Carrier, document', [shipment.carrier, shipment.document].filter(Boolean).join(', ')],
    ['Lot', `${lot.number}, ${lot.quantity} pieces`],
    ['Accepted, rejected of the lot', `${lot.acceptedCount}, ${lot.rejectedCount}`],
    ['Traveler', facts.travelers.join(', ')],
    [
      'Processed',
      processed === null ? '' : [...new Set([day(processed.from), day(processed.to)])].join(' to '),
    ],
    ['Process', `${recipe.number} ${recipe.name}, revision ${recipe.revision}`],
    ['Specification', facts.specification],
  ]);
}

function inspection(doc: Doc, { checks, inspectionLevel, shop }: CertifiedFacts): void {
  heading(doc, 'Final check');
  if (inspectionLevel !== '') write(doc, `Inspection: ${inspectionLevel}`, { gap: 4 });
  table(doc, {
    columns: [
      { title: 'Accepted', share: 1, align: 'right', face: 'figure' },
      { title: 'Rejected', share: 1, align: 'right', face: 'figure' },
      { title: 'To rework', share: 1, align: 'right', face: 'figure' },
      { title: '', share: 0.3 },
      { title: 'Why', share: 3 },
      { title: 'Released by, when', share: 3 },
    ],
    size: 9,
    rows: checks.map((check) => [
      ...[check.acceptedCount, check.rejectedCount, check.reworkCount].map(String),
      '',
      check.reason,
      `${check.checkedBy}, ${instantText(check.checkedAt, shop.timeZone)}`,
    ]),
  });
}

/** What the inspection plan asked for, by which table, and what was found. */
function characteristics(doc: Doc, { inspections = [], shop }: CertifiedFacts): void {
  if (inspections.length === 0) return;
  heading(doc, 'Inspection');
  table(doc, {
    columns: [
      { title: 'Characteristic', share: 2.4 },
      { title: 'Inspected', share: 1.1, align: 'right', face: 'figure' },
      { title: 'Not conf.', share: 1.1, align: 'right', face: 'figure' },
      { title: '', share: 0.2 },
      { title: 'Plan', share: 3 },
      { title: 'Result', share: 1.2 },
      { title: 'By, when', share: 2.6 },
    ],
    size: 8.5,
    rows: inspections.map((record) => [
      record.name,
      `${record.inspected} of ${record.lotSize}`,
      String(record.found),
      '',
      record.severity === null
        ? `every piece${record.isScreening ? ', after a rejected sample' : ''}`
        : `${record.severity}, letter ${record.letter}, Ac ${record.ac}, Re ${record.re}`,
      record.severity === null ? 'sorted' : record.verdict,
      `${record.inspectedBy}, ${instantText(record.inspectedAt, shop.timeZone)}`,
    ]),
  });
  const tables = [
    ...new Set(inspections.flatMap(({ planTable }) => (planTable === null ? [] : [planTable]))),
  ];
  if (tables.length > 0)
    write(doc, `Sampling: ${tables.join('; ')}.`, { size: 8.5, colour: inks.soft, gap: 4 });
}

function colour(doc: Doc, { colours, readings, guardFactor, shop }: CertifiedFacts): void {
  if (colours.length === 0 && readings.length === 0) return;
  heading(doc, 'Colour');
  for (const { zone, agreed } of colours) {
    const tolerance = agreed.tolerance === null ? '' : `, ${toleranceWords(agreed.tolerance)}`;
    write(
      doc,
      `${zone === '' ? 'Agreed' : `Agreed for ${zone}`}: ${agreed.name}, ${standardWords(agreed)}${tolerance}`,
    );
    swatches(doc, agreed, zone);
  }
  if (readings.length === 0) return;
  const figure = (value: number | null) => (value === null ? '–' : value.toFixed(2));
  table(doc, {
    columns: [
      { title: 'Place', share: 2.4 },
      { title: 'dE00', share: 1, align: 'right', face: 'figure' },
      { title: 'Limit', share: 1, align: 'right', face: 'figure' },
      { title: 'U, k = 2', share: 1, align: 'right', face: 'figure' },
      { title: 'Found', share: 1.2 },
      { title: 'How', share: 2.6 },
      { title: 'By, when', share: 2.6 },
    ],
    size: 8.5,
    rows: readings.map((reading) => [
      [reading.zone, reading.place].filter(Boolean).join(', '),
      figure(reading.deltaE),
      figure(reading.limit),
      figure(reading.expandedUncertainty),
      reading.verdict === 'hold' ? 'beyond' : reading.verdict === 'warn' ? 'within, near' : 'within',
      (reading.instrument || colourGradeNames[reading.grade]) +
        (reading.instrumentOverdue ? ' (calibration overdue)' : ''),
      `${[reading.readBy, reading.secondBy].filter(Boolean).join(' and ')}, ${instantText(reading.readAt, shop.timeZone)}`,
    ]),
  });
  if (readings.some(({ expandedUncertainty }) => expandedUncertainty !== null))
    write(
      doc,
      `Decision rule: a reading is within its limit; one nearer to it than ${guardFactor} times its expanded uncertainty U is said to be near.`,
      { size: 8.5, colour: inks.soft, gap: 4 },
    );
}

/** Room for a statement, a name and the code: nobody signs alone on a page. */
const SIGNED_POINTS = 135;

function signed(doc: Doc, { certificate, facts, signedAt, check }: PrintedCertificate): void {
  heading(doc, 'Deviations');
  write(doc, certificate.deviations === '' ? 'None.' : certificate.deviations, { gap: 4 });
  needRoom(doc, SIGNED_POINTS);
  heading(doc, 'Statement');
  write(doc, certificate.statement, { gap: 4 });
  write(doc, `The records of this lot are kept for at least ${facts.recordsKeptYears} years.`, { gap: 8 });
  write(doc, certificate.signedBy, { face: 'strong', size: 12, gap: 0 });
  write(doc, certificate.jobTitle, { gap: 2 });
  const at = instantText(signedAt, facts.shop.timeZone);
  write(doc, `Signed ${at}, with a credential given for it, to certify the above.`, {
    ...{ size: 9, colour: inks.soft, gap: 6 },
  });
  write(doc, `Does this copy stand? Scan the code at the top, or ask at ${check.url}`, { size: 9, gap: 0 });
  write(doc, `Code ${check.code}`, { face: 'figure', size: 9, gap: 0 });
}
