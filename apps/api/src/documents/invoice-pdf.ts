import { moneyText, type InvoiceFacts, type InvoiceKind } from '@huelot/contracts';
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

/** What the paper of an invoice or a credit note is drawn from. */
export interface PrintedInvoice {
  kind: InvoiceKind;
  number: string;
  facts: InvoiceFacts;
  issuedAt: string;
  issuedBy: string;
}
type Doc = ReturnType<typeof openDocument>;
const titleOf = (kind: InvoiceKind) => (kind === 'invoice' ? 'Invoice' : 'Credit note');

/** An invoice or a credit note: whom it is for, what of which delivery, at which price, the sums, and how to pay. */
export async function invoicePdf(paper: PrintedInvoice): Promise<Buffer> {
  const { kind, number, facts, issuedAt, issuedBy } = paper;
  const { shop } = facts;
  const sheet = {
    title: `${titleOf(kind)} ${number}`,
    author: shop.name,
    foot: `${shop.name} · issued ${instantText(issuedAt, shop.timeZone)} by ${issuedBy}`,
    madeAt: new Date(issuedAt),
    size: shop.units === 'us' ? ('LETTER' as const) : ('A4' as const),
  };
  const doc = openDocument(sheet);
  filmStrip(doc);
  head(doc, paper);
  lines(doc, facts);
  sums(doc, facts);
  if (facts.notes !== '') {
    heading(doc, 'Notes');
    write(doc, facts.notes, { gap: 4 });
  }
  payment(doc, paper);
  return closeDocument(doc, sheet);
}

function head(doc: Doc, { kind, number, facts }: PrintedInvoice): void {
  const { shop, customer, credits } = facts;
  const half = widthOf(doc) / 2;
  const top = doc.y;
  write(doc, shop.name, { face: 'strong', size: 11, gap: 0, width: half });
  const ours = [shop.address, shop.country, shop.contact, shop.taxNumber && `Tax number ${shop.taxNumber}`];
  write(doc, ours.filter(Boolean).join('\n'), { size: 9, colour: inks.soft, gap: 12, width: half });
  const left = doc.y;
  const right = { x: leftOf() + half, width: half, align: 'right' as const };
  write(doc, titleOf(kind), { ...right, y: top, face: 'strong', size: 20, gap: 0 });
  write(doc, number, { ...right, face: 'figure', size: 13, gap: 2 });
  write(doc, dayText(facts.issuedOn), right);
  doc.y = Math.max(left, doc.y);
  const theirs = [customer.name, customer.address, customer.country];
  write(doc, theirs.filter(Boolean).join('\n'), { size: 11, gap: 2 });
  write(doc, customer.taxNumber && `Tax number ${customer.taxNumber}`, {
    size: 9,
    colour: inks.soft,
    gap: 12,
  });
  const days = facts.lines
    .flatMap(({ shipment }) => (shipment === null ? [] : [shipment.shippedOn]))
    .toSorted();
  const span = [...new Set([days[0] ?? '', days.at(-1) ?? ''])].filter(Boolean).map((day) => dayText(day));
  factList(doc, [
    ['Customer number', customer.number],
    ['Delivered', span.join(' to ')],
    ['Payable by', kind === 'invoice' ? dayText(facts.dueOn) : ''],
    ['Currency', facts.currency],
    ['Corrects invoice', credits === null ? '' : `${credits.number} of ${dayText(credits.issuedOn)}`],
    ['Reason', credits?.reason ?? ''],
  ]);
}

function lines(doc: Doc, { lines: all, currency }: InvoiceFacts): void {
  doc.y += 6;
  table(doc, {
    columns: [
      { title: 'No.', share: 0.6, align: 'right', face: 'figure' },
      { title: 'What was done and delivered', share: 5 },
      { title: 'Pieces', share: 0.9, align: 'right', face: 'figure' },
      { title: 'Per piece', share: 1.6, align: 'right', face: 'figure' },
      { title: 'Amount', share: 1.8, align: 'right', face: 'figure' },
    ],
    size: 9.5,
    rows: all.map((line) => [
      String(line.position),
      wordsOf(line, currency),
      line.kind === 'one-off' ? '' : String(line.quantity),
      line.kind === 'one-off' ? '' : moneyText(line.unitPrice, currency),
      moneyText(line.net, currency),
    ]),
  });
}

function wordsOf(line: InvoiceFacts['lines'][number], currency: string): string {
  const { order, part, shipment } = line;
  const named = `${part.number} revision ${part.revision}`;
  const from = `Order ${order.number} line ${order.line}${order.customerOrderNumber && `, yours ${order.customerOrderNumber}`}`;
  const price =
    line.kind === 'pieces' && line.basisQuantity > 1
      ? `${moneyText(line.basisTotal, currency)} for ${line.basisQuantity} pieces${line.minimumApplied ? ', the minimum charge for a lot' : ''}`
      : '';
  return [
    line.kind === 'one-off'
      ? `${line.label}, charged once for ${named}`
      : [named, part.description].filter(Boolean).join(', '),
    from,
    shipment &&
      [
        shipment.deliveryNote && `Delivery note ${shipment.deliveryNote}`,
        `${shipment.deliveryNote === null ? 'S' : 's'}hipment ${shipment.number} of ${dayText(shipment.shippedOn)}, lot ${shipment.lot.number}`,
      ]
        .filter(Boolean)
        .join(', '),
    price,
  ]
    .filter(Boolean)
    .join('\n');
}

/** Why there is no tax, as an invoice has to say it. */
const untaxed: Record<InvoiceFacts['noTaxReason'], string> = {
  '': 'No tax is added.',
  'zero-rated': 'Zero-rated.',
  exempt: 'Exempt from tax.',
  'reverse-charge': 'Reverse charge: the customer accounts for the tax.',
  export: 'Export: no tax is added.',
  'intra-community': 'Intra-community supply: no tax is added.',
};

function sums(
  doc: Doc,
  { net, tax, gross, taxRatePercent, noTaxReason, currency, credits }: InvoiceFacts,
): void {
  needRoom(doc, 80);
  doc.y += 6;
  const width = widthOf(doc) * 0.5;
  const x = leftOf() + widthOf(doc) - width;
  const row = (label: string, amount: string, isTotal = false) => {
    const y = doc.y;
    const style = isTotal ? { face: 'strong' as const, size: 12 } : { size: 10 };
    write(doc, label, { ...style, x, y, width: width * 0.5, gap: 0 });
    write(doc, moneyText(amount, currency), {
      ...style,
      x: x + width * 0.5 - 4,
      y,
      width: width * 0.5,
      align: 'right',
      gap: 4,
    });
  };
  row('Net', net);
  row(taxRatePercent > 0 ? `Tax ${taxRatePercent} %` : 'Tax', tax);
  row(credits === null ? 'To pay' : 'Given back', gross, true);
  if (taxRatePercent === 0) write(doc, untaxed[noTaxReason], { size: 9, gap: 4 });
}

function payment(doc: Doc, { kind, number, facts }: PrintedInvoice): void {
  heading(doc, 'Payment');
  const { shop, credits, gross, currency } = facts;
  const words =
    kind === 'invoice'
      ? [
          `Please pay ${moneyText(gross, currency)} by ${dayText(facts.dueOn)}, within ${facts.paymentDays} days, and name ${number}.`,
          shop.iban && `IBAN ${shop.iban.replaceAll(/(.{4})(?=.)/g, '$1 ')}`,
          shop.bic && `BIC ${shop.bic}`,
        ]
      : [
          `The amount is taken off what is open of ${credits?.number ?? ''}; what was paid already is paid back.`,
        ];
  write(doc, words.filter(Boolean).join('\n'), { gap: 4 });
}
