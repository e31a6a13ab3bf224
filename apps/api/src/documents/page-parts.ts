import { createRequire } from 'node:module';
import { filmColour } from '@huelot/calc';
import PDFDocument from 'pdfkit';

/*
 * The few parts every printed page is made of. A4 or Letter in points; text flows down, tables break between rows and repeat their
 * head, and the foot says which page of how many, of what, issued when and by whom.
 */

const require = createRequire(import.meta.url);
const face = (family: string, weight: string, file: string) =>
  require.resolve(`@expo-google-fonts/${family}/${weight}/${file}_${weight}.ttf`);
const faces = {
  text: face('atkinson-hyperlegible-next', '400Regular', 'AtkinsonHyperlegibleNext'),
  strong: face('atkinson-hyperlegible-next', '700Bold', 'AtkinsonHyperlegibleNext'),
  figure: face('atkinson-hyperlegible-mono', '400Regular', 'AtkinsonHyperlegibleMono'),
};
export type Face = keyof typeof faces;

const ink = '#14181a';
const soft = '#4a5254';
const line = '#b9c0c1';
const shade = '#eff1f1';
export const inks = { ink, soft, line, shade, danger: '#a3221c' } as const;

const margin = { top: 40, side: 42, bottom: 52 };

/** The font has the Greek mu and no micro sign, and one space that does not break; to the reader they are one. */
const printable = (text: string) =>
  text.replaceAll('µ', 'μ').replaceAll('₀', '0').replaceAll('→', '–').replaceAll('\u202f', '\u00a0');

export interface Sheet {
  /** What the document is, for its properties and its foot: `Q-00012 revision 2`. */
  title: string;
  author: string;
  /** Printed in the foot, beside the page number. */
  foot: string;
  /** The moment its properties name: of the issue, never of the click, so that a reprint is the same bytes. */
  madeAt: Date;
  landscape?: boolean;
  /** A4 where it is not said. */
  size?: 'A4' | 'LETTER';
}

export type Document = PDFKit.PDFDocument;

/**
 * A new document with its first page open.
 *
 * @example
 * const doc = openDocument({ title: 'Q-00012 revision 2', author: 'Shop', foot: 'Shop · sent ...', madeAt: sentAt });
 */
export function openDocument({ title, author, madeAt, landscape = false, size = 'A4' }: Sheet): Document {
  const doc = new PDFDocument({
    size,
    layout: landscape ? 'landscape' : 'portrait',
    margins: { top: margin.top, bottom: margin.bottom, left: margin.side, right: margin.side },
    bufferPages: true,
    info: { Title: title, Author: author, Creator: 'Huelot', CreationDate: madeAt, ModDate: madeAt },
    lang: 'en',
    displayTitle: true,
  });
  for (const [name, file] of Object.entries(faces)) doc.registerFont(name, file);
  return use(doc, { size: 10 });
}

/** A document of labels, without a page yet: each `addPage` is a label of that size, in points, without a margin. */
export function openLabels({
  title,
  author,
  madeAt,
  width,
  height,
}: Pick<Sheet, 'title' | 'author' | 'madeAt'> & { width: number; height: number }): Document {
  const doc = new PDFDocument({
    ...{ size: [width, height], margin: 0, autoFirstPage: false, lang: 'en', displayTitle: true },
    info: { Title: title, Author: author, Creator: 'Huelot', CreationDate: madeAt, ModDate: madeAt },
  });
  for (const [name, file] of Object.entries(faces)) doc.registerFont(name, file);
  return doc;
}

interface Style {
  face?: Face;
  size?: number;
  colour?: string;
}
/** Sets face, size and colour for what is written next. */
export const use = (doc: Document, { face = 'text', size = 10, colour = ink }: Style): Document =>
  doc.font(face).fontSize(size).fillColor(colour);

export const widthOf = (doc: Document): number => doc.page.width - 2 * margin.side;
export const leftOf = (): number => margin.side;
const bottomOf = (doc: Document) => doc.page.height - margin.bottom;

/** Starts a new page unless so much room is left on this one. */
export function needRoom(doc: Document, height: number): void {
  if (doc.y + height > bottomOf(doc)) doc.addPage();
}

export interface Words extends Style {
  x?: number;
  y?: number;
  width?: number;
  align?: 'left' | 'right' | 'center';
  gap?: number;
}
/** Writes a text block and moves down by it. */
export function write(doc: Document, text: string, words: Words = {}): void {
  use(doc, words);
  const { x = margin.side, y = doc.y, width = widthOf(doc), align = 'left', gap = 2 } = words;
  doc.text(printable(text), x, y, { width, align, lineGap: 1 });
  doc.y += gap;
}

/** The strip of real film colours: titanium from bare metal to 250 nm of oxide, as `filmColour` computes it. */
export function filmStrip(doc: Document, height = 5): void {
  const gradient = doc.linearGradient(margin.side, 0, margin.side + widthOf(doc), 0);
  for (const { at, colour } of strip) gradient.stop(at, colour);
  doc.rect(margin.side, doc.y, widthOf(doc), height).fill(gradient);
  doc.y += height + 8;
}
const NM = 250;
const STOPS = 48;
const strip = Array.from({ length: STOPS + 1 }, (_, index) => {
  const at = index / STOPS;
  return { at, colour: filmColour({ system: 'titanium', thicknessNm: at * NM }).srgb.hex };
});

/** A heading that stays with what follows it. */
export function heading(doc: Document, text: string): void {
  needRoom(doc, 60);
  doc.y += 8;
  write(doc, text, { face: 'strong', size: 12, gap: 4 });
}

/** Label and value pairs in columns; empty ones are left out. */
export function facts(doc: Document, pairs: readonly (readonly [string, string])[], columns = 3): void {
  const shown = pairs.filter(([, value]) => value.trim() !== '');
  const gutter = 14;
  const width = (widthOf(doc) - gutter * (columns - 1)) / columns;
  for (let first = 0; first < shown.length; first += columns) {
    const row = shown.slice(first, first + columns);
    const heights = row.map(([label, value]) => {
      use(doc, { size: 8 });
      const head = doc.heightOfString(printable(label), { width });
      use(doc, { size: 10 });
      return head + doc.heightOfString(printable(value), { width, lineGap: 1 });
    });
    const height = Math.max(...heights);
    needRoom(doc, height + 6);
    const top = doc.y;
    row.forEach(([label, value], index) => {
      const x = margin.side + index * (width + gutter);
      write(doc, label, { x, y: top, width, size: 8, colour: soft, gap: 0 });
      write(doc, value, { x, width, gap: 0 });
    });
    doc.y = top + height + 6;
  }
  doc.x = margin.side;
}

export interface TableColumn {
  title: string;
  /** Share of the width. */
  share: number;
  align?: 'left' | 'right';
  face?: Face;
}
/** A table that breaks between rows, never inside one, and repeats its head on each page. */
export function table(
  doc: Document,
  {
    columns,
    rows,
    size = 9.5,
  }: { columns: readonly TableColumn[]; rows: readonly (readonly string[])[]; size?: number },
): void {
  const total = columns.reduce((sum, { share }) => sum + share, 0);
  const widths = columns.map(({ share }) => (widthOf(doc) * share) / total);
  const pad = 4;
  const cell = (index: number) => ({ width: (widths[index] ?? 0) - 2 * pad, lineGap: 1 });
  const heightOf = (texts: readonly string[], style: (index: number) => Style) =>
    Math.max(
      ...texts.map((text, index) =>
        doc
          .font((use(doc, { size, ...style(index) }), style(index).face ?? 'text'))
          .heightOfString(printable(text), cell(index)),
      ),
    ) +
    2 * pad;
  const draw = (texts: readonly string[], style: (index: number) => Style, fill?: string) => {
    const height = heightOf(texts, style);
    const top = doc.y;
    if (fill !== undefined) doc.rect(margin.side, top, widthOf(doc), height).fill(fill);
    let x = margin.side;
    texts.forEach((text, index) => {
      use(doc, { size, ...style(index) });
      doc.text(printable(text), x + pad, top + pad, {
        ...cell(index),
        align: columns[index]?.align ?? 'left',
      });
      x += widths[index] ?? 0;
    });
    doc.y = top + height;
    doc
      .moveTo(margin.side, doc.y)
      .lineTo(margin.side + widthOf(doc), doc.y)
      .lineWidth(0.5)
      .strokeColor(line)
      .stroke();
  };
  const head = () =>
    draw(
      columns.map(({ title }) => title),
      () => ({ face: 'strong', colour: ink }),
      shade,
    );
  needRoom(doc, 60);
  head();
  for (const row of rows) {
    const style = (index: number): Style => ({ face: columns[index]?.face ?? 'text' });
    if (doc.y + heightOf(row, style) > bottomOf(doc)) {
      doc.addPage();
      head();
    }
    draw(row, style);
  }
  doc.x = margin.side;
  doc.y += 6;
}

/** A framed box of cautions. */
export function cautions(doc: Document, title: string, texts: readonly string[]): void {
  if (texts.length === 0) return;
  const width = widthOf(doc) - 20;
  const body = texts.map((text) => `•  ${text}`).join('\n');
  use(doc, { size: 9.5 });
  const height = doc.heightOfString(printable(body), { width, lineGap: 1 }) + 30;
  needRoom(doc, height);
  const top = doc.y;
  doc.rect(margin.side, top, widthOf(doc), height).lineWidth(1.2).strokeColor(inks.danger).stroke();
  write(doc, title, {
    x: margin.side + 10,
    y: top + 7,
    width,
    face: 'strong',
    size: 10,
    colour: inks.danger,
    gap: 1,
  });
  write(doc, body, { x: margin.side + 10, width, size: 9.5 });
  doc.x = margin.side;
  doc.y = top + height + 8;
}

/**
 * Writes the foot of every page and returns the finished file.
 *
 * @example
 * const bytes = await closeDocument(doc, sheet);
 */
export async function closeDocument(doc: Document, sheet: Sheet): Promise<Buffer> {
  const { start, count } = doc.bufferedPageRange();
  for (let page = start; page < start + count; page += 1) {
    doc.switchToPage(page);
    // The foot stands in the bottom margin, where text would otherwise open a new page.
    doc.page.margins.bottom = 0;
    const y = doc.page.height - 34;
    doc
      .moveTo(margin.side, y - 6)
      .lineTo(margin.side + widthOf(doc), y - 6)
      .lineWidth(0.5)
      .strokeColor(line)
      .stroke();
    write(doc, `${sheet.title} · ${sheet.foot}`, { y, size: 8, colour: soft, width: widthOf(doc) - 90 });
    write(doc, `page ${page - start + 1} of ${count}`, { y, size: 8, colour: soft, align: 'right' });
  }
  return drawnFile(doc);
}

/** The finished file of a document. */
export async function drawnFile(doc: Document): Promise<Buffer> {
  const chunks: Buffer[] = [];
  const done = new Promise<Buffer>((resolve, reject) => {
    doc.on('data', (chunk: Buffer) => chunks.push(chunk));
    doc.on('end', () => resolve(Buffer.concat(chunks)));
    doc.on('error', reject);
  });
  doc.end();
  return done;
}
