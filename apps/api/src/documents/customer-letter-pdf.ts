import type { LetterFacts } from '@huelot/contracts';
import { dayText, instantText } from './figures.ts';
import {
  closeDocument,
  facts as factList,
  filmStrip,
  heading,
  inks,
  needRoom,
  openDocument,
  table,
  write,
} from './page-parts.ts';

/** What the paper of a letter is drawn from: the record as it was signed, and nothing that moves on. */
export interface PrintedCustomerLetter {
  letter: {
    number: string;
    attention: string;
    found: string;
    asked: string;
    jobTitle: string;
    signedBy: string;
  };
  facts: LetterFacts;
  signedAt: string;
}
type Doc = ReturnType<typeof openDocument>;

/** A letter to a customer who has pieces that may be affected: what was found, which pieces, and what is asked or offered. */
export async function customerLetterPdf(paper: PrintedCustomerLetter): Promise<Buffer> {
  const { letter, facts, signedAt } = paper;
  const { shop } = facts;
  const sheet = {
    title: `Letter ${letter.number}`,
    author: shop.name,
    foot: `${shop.name} · signed ${instantText(signedAt, shop.timeZone)}`,
    madeAt: new Date(signedAt),
    size: shop.units === 'us' ? ('LETTER' as const) : ('A4' as const),
  };
  const doc = openDocument(sheet);
  filmStrip(doc);
  head(doc, paper);
  heading(doc, 'What was found');
  write(doc, letter.found, { gap: 4 });
  pieces(doc, facts);
  heading(doc, 'What we ask and offer');
  write(doc, letter.asked, { gap: 8 });
  signed(doc, paper);
  return closeDocument(doc, sheet);
}

function head(
  doc: Doc,
  { letter, facts: { shop, customer, address, assessment }, signedAt }: PrintedCustomerLetter,
) {
  write(doc, shop.name, { face: 'strong', size: 11, gap: 0 });
  write(doc, [shop.address, shop.contact].filter(Boolean).join('\n'), {
    ...{ size: 9, colour: inks.soft, gap: 14 },
  });
  write(doc, [customer.name, letter.attention, address].filter(Boolean).join('\n'), { size: 11, gap: 16 });
  write(doc, 'Pieces you received from us may be affected', { face: 'strong', size: 17, gap: 0 });
  write(doc, letter.number, { face: 'figure', size: 13, gap: 6 });
  factList(doc, [
    ['Date', instantText(signedAt, shop.timeZone)],
    ['Your number with us', customer.number],
    ['Our assessment', assessment],
  ]);
}

function pieces(doc: Doc, { lots }: LetterFacts): void {
  heading(doc, 'Which pieces');
  table(doc, {
    columns: [
      { title: 'Lot', share: 1.2, face: 'figure' },
      { title: 'Part', share: 2.2 },
      { title: 'Order, yours', share: 2 },
      { title: 'Shipped', share: 3.2 },
      { title: 'Pieces', share: 0.9, align: 'right', face: 'figure' },
      { title: '', share: 0.2 },
      { title: 'Certificates', share: 2.2 },
    ],
    size: 9,
    rows: lots.map(({ number, part, order, customerOrderNumber, shipments, certificates }) => [
      ...[number, part, [order, customerOrderNumber].filter(Boolean).join('\n')],
      shipments
        .map((one) => `${one.number}, ${dayText(one.shippedAt.slice(0, 10))}: ${one.quantity}`)
        .join('\n'),
      String(shipments.reduce((sum, { quantity }) => sum + quantity, 0)),
      ...['', certificates.join('\n') || '–'],
    ]),
  });
}

/** Room for a name and what it was signed with: nobody signs alone on a page. */
const SIGNED_POINTS = 80;

function signed(doc: Doc, { letter, facts: { shop }, signedAt }: PrintedCustomerLetter): void {
  needRoom(doc, SIGNED_POINTS);
  doc.y += 10;
  write(doc, letter.signedBy, { face: 'strong', size: 12, gap: 0 });
  write(doc, [letter.jobTitle, shop.name].join(', '), { gap: 2 });
  write(doc, `Signed ${instantText(signedAt, shop.timeZone)}, with a credential given for it.`, {
    ...{ size: 9, colour: inks.soft, gap: 0 },
  });
}
