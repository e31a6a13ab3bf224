import type { DeliveryFacts } from '@huelot/contracts';
import QRCode from 'qrcode';
import { drawnFile, inks, openLabels, write, type Document } from './page-parts.ts';

export interface LabelSize {
  widthMm: number;
  heightMm: number;
}
interface Asked {
  number: string;
  facts: DeliveryFacts;
  issuedAt: string;
  size: LabelSize;
  /** The page of a lot by its number, for the code. */
  addressOf: (lot: string) => string;
}

const POINTS_PER_MM = 72 / 25.4;

/**
 * A label for each package, a page each, of the size of the label: what is in it, which of how many it is, and a code that leads to
 * the lot. What has no room is left off from the bottom: the number and the code always have it.
 *
 * @example
 * const bytes = await deliveryLabelsPdf({ number, facts, issuedAt, size: { widthMm: 100, heightMm: 60 }, addressOf });
 */
export async function deliveryLabelsPdf({
  number,
  facts,
  issuedAt,
  size,
  addressOf,
}: Asked): Promise<Buffer> {
  const [width, height] = [size.widthMm * POINTS_PER_MM, size.heightMm * POINTS_PER_MM];
  const doc = openLabels({
    ...{ title: `Labels of ${number}`, author: facts.shop.name },
    ...{ madeAt: new Date(issuedAt), width, height },
  });
  for (const [index, packed] of facts.packages.entries()) {
    doc.addPage();
    const png = await QRCode.toBuffer(addressOf(packed.lot), {
      errorCorrectionLevel: 'M',
      margin: 0,
      width: 420,
    });
    drawLabel(doc, {
      png,
      name: number,
      count: `${index + 1} of ${facts.packages.length}`,
      lines: [
        ...[facts.customer.name, packed.part, `${packed.quantity} pieces, lot ${packed.lot}`],
        ...(packed.grossKg === null ? [] : [`${packed.grossKg} kg gross`]),
        ...[ordersOf(facts, packed.lot), facts.shop.name],
      ].filter(Boolean),
    });
  }
  return drawnFile(doc);
}

/** The customer’s own order number is what their goods-in looks for. */
const ordersOf = ({ orders }: DeliveryFacts, lot: string): string =>
  orders
    .filter(({ lines }) => lines.some(({ shipments }) => shipments.some((one) => one.lot.number === lot)))
    .map(({ number, customerOrderNumber }) =>
      customerOrderNumber === '' ? `Order ${number}` : `Your order ${customerOrderNumber}`,
    )
    .join(', ');

function drawLabel(
  doc: Document,
  { png, name, count, lines }: { png: Buffer; name: string; count: string; lines: readonly string[] },
): void {
  const { width, height } = doc.page;
  const pad = Math.min(width, height) * 0.06;
  const qr = Math.min(height - 2 * pad, width * 0.36);
  doc.image(png, width - pad - qr, pad, { width: qr });
  const column = width - qr - 3 * pad;
  const size = Math.max(5, Math.min(column / 13, height / 12));
  doc.y = pad;
  write(doc, name, { face: 'figure', x: pad, width: column, size: size * 1.25, gap: 0 });
  write(doc, `Package ${count}`, { face: 'strong', x: pad, width: column, size, gap: size * 0.3 });
  for (const text of lines) {
    doc.fontSize(size);
    if (doc.y + doc.heightOfString(text, { width: column, lineGap: 1 }) > height - pad) return;
    write(doc, text, { x: pad, width: column, size, colour: inks.ink, gap: size * 0.15 });
  }
}
