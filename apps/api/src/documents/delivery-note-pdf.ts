import type { DeliveryFacts } from '@huelot/contracts';
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

/** What the paper of a delivery note is drawn from. */
export interface PrintedDeliveryNote {
  number: string;
  facts: DeliveryFacts;
  issuedAt: string;
  issuedBy: string;
}
type Doc = ReturnType<typeof openDocument>;

/** A delivery note: what is in the delivery by order and line, how it is packed, and what is still to come. */
export async function deliveryNotePdf(paper: PrintedDeliveryNote): Promise<Buffer> {
  const { number, facts, issuedAt, issuedBy } = paper;
  const { shop } = facts;
  const sheet = {
    title: `Delivery note ${number}`,
    author: shop.name,
    foot: `${shop.name} · issued ${instantText(issuedAt, shop.timeZone)} by ${issuedBy}`,
    madeAt: new Date(issuedAt),
    size: shop.units === 'us' ? ('LETTER' as const) : ('A4' as const),
  };
  const doc = openDocument(sheet);
  filmStrip(doc);
  head(doc, paper);
  for (const order of facts.orders) packingList(doc, order, facts);
  packages(doc, facts);
  if (facts.notes !== '') {
    heading(doc, 'Notes');
    write(doc, facts.notes, { gap: 4 });
  }
  received(doc);
  return closeDocument(doc, sheet);
}

function head(doc: Doc, { number, facts, issuedAt }: PrintedDeliveryNote): void {
  const { shop, customer } = facts;
  write(doc, shop.name, { face: 'strong', size: 11, gap: 0 });
  write(doc, [shop.address, shop.contact].filter(Boolean).join('\n'), {
    size: 9,
    colour: inks.soft,
    gap: 10,
  });
  write(doc, [customer.name, facts.address].join('\n'), { size: 11, gap: 14 });
  write(doc, 'Delivery note', { face: 'strong', size: 20, gap: 0 });
  write(doc, number, { face: 'figure', size: 13, gap: 8 });
  const all = facts.orders.flatMap(({ lines }) => lines);
  factList(doc, [
    ['Customer', `${customer.number} ${customer.name}`],
    ['Date', instantText(issuedAt, shop.timeZone)],
    ['Carrier, document', [facts.carrier, facts.document].filter(Boolean).join(', ')],
    ['Pieces', String(all.reduce((sum, { delivered }) => sum + delivered, 0))],
    ['Packages', String(facts.packages.length)],
  ]);
}

function packingList(
  doc: Doc,
  { number, customerOrderNumber, lines }: DeliveryFacts['orders'][number],
  { shop }: DeliveryFacts,
): void {
  heading(doc, `Order ${number}${customerOrderNumber === '' ? '' : `, yours ${customerOrderNumber}`}`);
  table(doc, {
    columns: [
      { title: 'Line', share: 0.6, align: 'right', face: 'figure' },
      { title: 'Part, drawing revision', share: 3.2 },
      { title: 'Ordered', share: 1, align: 'right', face: 'figure' },
      { title: 'Before', share: 1, align: 'right', face: 'figure' },
      { title: 'In this', share: 1, align: 'right', face: 'figure' },
      { title: 'Rejected', share: 1, align: 'right', face: 'figure' },
      { title: 'To come', share: 1, align: 'right', face: 'figure' },
    ],
    size: 9.5,
    rows: lines.map((line) => [
      String(line.line),
      `${line.part.number} revision ${line.part.revision}\n${line.part.description}`.trim(),
      ...[line.ordered, line.shippedBefore, line.delivered, line.rejected, line.stillToCome].map(String),
    ]),
  });
  table(doc, {
    columns: [
      { title: 'Lot', share: 1.2, face: 'figure' },
      { title: 'Line', share: 0.6, align: 'right', face: 'figure' },
      { title: 'Pieces', share: 0.8, align: 'right', face: 'figure' },
      { title: '', share: 0.2 },
      { title: 'Shipment', share: 3 },
      { title: 'Certificate that travels with it', share: 2.4 },
    ],
    size: 9,
    rows: lines.flatMap(({ line, shipments }) =>
      shipments.map((shipment) => [
        ...[shipment.lot.number, String(line), String(shipment.quantity), ''],
        [
          `${shipment.number}, ${dayText(shipment.shippedAt)}`,
          ...[shipment.carrier, shipment.document].filter(Boolean),
        ].join(', '),
        shipment.certificates.join(', ') || '–',
      ]),
    ),
  });
  if (lines.some(({ rejected }) => rejected > 0))
    write(
      doc,
      `Rejected pieces are not charged for and not in this delivery. ${shop.name} tells what becomes of them.`,
      {
        ...{ size: 8.5, colour: inks.soft, gap: 2 },
      },
    );
}

const kg = (value: number | null) => (value === null ? '–' : `${value}`);

function packages(doc: Doc, { packages: packed }: DeliveryFacts): void {
  heading(doc, 'Packages');
  table(doc, {
    columns: [
      { title: 'No.', share: 0.7, align: 'right', face: 'figure' },
      { title: 'Kind', share: 1.6 },
      { title: 'Lot', share: 1.2, face: 'figure' },
      { title: 'Part', share: 2.6 },
      { title: 'Pieces', share: 0.9, align: 'right', face: 'figure' },
      { title: 'Net, kg', share: 1, align: 'right', face: 'figure' },
      { title: 'Gross, kg', share: 1.1, align: 'right', face: 'figure' },
    ],
    size: 9,
    rows: packed.map(({ kind, lot, part, quantity, netKg, grossKg }, index) => [
      ...[String(index + 1), kind, lot, part, String(quantity), kg(netKg), kg(grossKg)],
    ]),
  });
}

/** Lines to sign on, by hand, when the goods are handed over. */
function received(doc: Doc): void {
  needRoom(doc, 70);
  doc.y += 34;
  const top = doc.y;
  const width = (widthOf(doc) - 24) / 2;
  for (const [index, words] of ['Received in full, date', 'Name and signature'].entries()) {
    const x = leftOf() + index * (width + 24);
    doc
      .moveTo(x, top)
      .lineTo(x + width, top)
      .lineWidth(0.7)
      .strokeColor(inks.soft)
      .stroke();
    write(doc, words, { x, y: top + 3, width, size: 8, colour: inks.soft, gap: 0 });
  }
}
