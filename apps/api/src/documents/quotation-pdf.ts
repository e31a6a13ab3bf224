import type { SystemOfUnits } from '@huelot/calc';
import { firstArticleStatement, moneyText, type Quotation, type QuotedExchange } from '@huelot/contracts';
import { coloursOf, isPromised, promisedColour, swatches, zoneText } from './agreed-colour.ts';
import { dayText, figure, instantText, type Reader } from './figures.ts';
import {
  closeDocument,
  facts,
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

export interface Letterhead {
  name: string;
  address: string;
  contact: string;
  timeZone: string;
}

interface Printed {
  quotation: Quotation;
  shop: Letterhead;
  /** Address and units of the customer as they were when it was sent. */
  customer: { address: string; units: SystemOfUnits };
  /** Null of a draft, which is no offer. */
  sent: { at: string; by: string } | null;
}

/**
 * The quotation as the customer gets it: what is offered, at which prices, on which assumptions. Nothing of cost, margin
 * or internal notes is handed to this function's text. The same quotation is the same bytes, whoever prints it and when.
 */
export async function quotationPdf({ quotation, shop, customer, sent }: Printed): Promise<Buffer> {
  const { shown } = quotation;
  const reader = { units: customer.units, timeZone: shop.timeZone };
  const sheet = {
    title: `${quotation.number} revision ${shown.revision}`,
    author: shop.name,
    foot: `${shop.name} · ${sent === null ? 'draft, not an offer' : `sent ${instantText(sent.at, shop.timeZone)} by ${sent.by}`}`,
    madeAt: new Date(sent?.at ?? shown.createdAt),
  };
  const doc = openDocument(sheet);
  const half = widthOf(doc) / 2;
  filmStrip(doc, 7);
  const top = doc.y;
  write(doc, shop.name, { face: 'strong', size: 15, width: half });
  write(doc, [shop.address, shop.contact].filter(Boolean).join('\n'), {
    size: 9,
    colour: inks.soft,
    width: half,
  });
  const left = doc.y;
  const right = { x: leftOf() + half, width: half, align: 'right' as const };
  write(doc, 'Quotation', { ...right, y: top, face: 'strong', size: 20, gap: 0 });
  write(doc, `${quotation.number}, revision ${shown.revision}`, { ...right, face: 'figure', size: 12 });
  write(doc, shown.sentAt === null ? 'Draft, not an offer' : dayText(shown.sentAt), {
    ...right,
    colour: shown.sentAt === null ? inks.danger : inks.ink,
  });
  doc.y = Math.max(left, doc.y) + 14;

  write(doc, quotation.customer.name, { face: 'strong', size: 11, gap: 0 });
  write(
    doc,
    [customer.address, shown.contactName && `Attention ${shown.contactName}`].filter(Boolean).join('\n'),
    { gap: 10 },
  );
  facts(doc, [
    ['Your enquiry', shown.enquiryReference],
    ['Valid until', dayText(shown.validUntil)],
    ['Lead time', `${shown.leadTimeDays} days from receipt of parts and order`],
    ['Currency', shown.currency],
    ['Rate of exchange', shown.exchange === null ? '' : exchangeText(shown.exchange)],
    ['Customer number', quotation.customer.number],
  ]);
  for (const line of shown.lines) quotedLine(doc, { line, shown, reader });

  if (shown.customerNotes) {
    heading(doc, 'Assumptions and notes');
    write(doc, shown.customerNotes, { gap: 6 });
  }
  heading(doc, 'Terms');
  const tax =
    shown.taxRatePercent > 0
      ? `Prices exclude tax; ${shown.taxRatePercent} % is added on the invoice.`
      : 'No tax is added.';
  write(doc, [tax, shown.terms].filter(Boolean).join('\n'), { gap: 6 });
  write(
    doc,
    'Each quantity is priced as one lot, delivered together; a unit price applies to its own quantity only.',
    { size: 9, colour: inks.soft },
  );
  return closeDocument(doc, sheet);
}

/** `1 USD = 0.3072 KWD, 28 Nov 2026, central bank` */
const exchangeText = ({ baseCurrency, currency, rate, day, source }: QuotedExchange): string =>
  `1 ${baseCurrency} = ${rate} ${currency}, ${dayText(day)}, ${source}`;

/** A certificate certifies what the record of the lot will hold; of a colour that nobody agreed to it says nothing. */
const certificateText = (coversColour: boolean): string =>
  `certificate of conformance${coversColour ? '' : ', which does not cover colour'}`;

function quotedLine(
  doc: ReturnType<typeof openDocument>,
  {
    line,
    shown,
    reader,
  }: { line: Quotation['shown']['lines'][number]; shown: Quotation['shown']; reader: Reader },
): void {
  const { currency, validUntil: until } = shown;
  const { agreedColour } = line.part;
  needRoom(doc, 150);
  heading(doc, `${line.position}.  ${line.part.number} rev ${line.part.revision}  ${line.part.description}`);
  facts(doc, [
    ['Base metal, as stated by you', line.material],
    ['Finish', line.recipe.name],
    ['Colour', promisedColour(agreedColour, { recipeColour: line.recipeColour, until })],
    ...line.part.zones.map(
      (zone) =>
        [
          `Zone: ${zone.name}`,
          zoneText(zone, (colour) => promisedColour(colour, { recipeColour: line.recipeColour, until })),
        ] as const,
    ),
    ...unprovedOf(line),
    ['Specification', line.specification],
    ['Area per piece', `${figure('area', line.areaMm2, reader.units)} (${line.areaMethod})`],
    ['Masked area', line.maskedAreaMm2 > 0 ? figure('area', line.maskedAreaMm2, reader.units) : ''],
    ['Inspection', line.inspectionLevel],
    ['Packing', line.packing],
    [
      'Included',
      [
        line.certificate &&
          certificateText(coloursOf(line.part).every(({ colour }) => isPromised(colour, until))),
        line.expedite && 'expedited',
      ]
        .filter(Boolean)
        .join(', '),
    ],
  ]);
  for (const { name, colour } of coloursOf(line.part)) swatches(doc, colour, name);
  table(doc, {
    columns: [
      { title: 'Pieces', share: 1, align: 'right', face: 'figure' },
      { title: 'Loads', share: 1, align: 'right', face: 'figure' },
      { title: 'Price per piece', share: 2, align: 'right', face: 'figure' },
      { title: 'Lot price', share: 2, align: 'right', face: 'figure' },
    ],
    rows: line.breaks.map((price) => [
      String(price.quantity),
      String(price.loads),
      moneyText(price.unitPrice, currency),
      moneyText(price.totalPrice, currency),
    ]),
  });
  if (line.oneOffs.length > 0) {
    const extras = line.oneOffs
      .map(
        ({ label, amount, trial }) =>
          `${label}${trial ? ` (trial ${trial.number})` : ''} ${moneyText(amount, currency)}`,
      )
      .join(', ');
    write(doc, `The lot price includes these one-off charges: ${extras}.`, { size: 9, colour: inks.soft });
  }
}

/** A colour that no evidence stands behind is promised by nobody: neither its tolerance nor a certificate of it. */
const unprovedOf = ({ evidence, material }: Quotation['shown']['lines'][number]): [string, string][] =>
  evidence === null || evidence.state === 'proved'
    ? []
    : [
        [
          'Evidence',
          `${firstArticleStatement}: this finish is not yet proved on ${material}. Colour, tolerance and any certificate of colour hold once you have agreed to the first article.`,
        ],
      ];
