import { labToSrgb } from '@huelot/calc';
import {
  BaseMetal,
  baseMetalNames,
  colourClassNames,
  colourGradeNames,
  conditionsWords,
  labWords,
  swatchCaution,
  type CatalogueColour,
} from '@huelot/contracts';
import { dayText } from './figures.ts';
import {
  closeDocument,
  filmStrip,
  heading,
  inks,
  leftOf,
  needRoom,
  openDocument,
  widthOf,
  write,
  type Document,
} from './page-parts.ts';

const PATCH = { width: 84, height: 42 };
const ROW = 58;
const COLUMNS = 2;

interface Printed {
  colours: readonly CatalogueColour[];
  shop: { name: string; address: string; contact: string; units: 'metric' | 'us'; day: string };
}

/**
 * The colours that the shop makes, by metal, on the paper of the shop: A4, or Letter where it prints in US units. Only what
 * evidence proves and an instrument measured has a patch; prices and customers are not on it.
 *
 * @example
 * const bytes = await swatchSheetPdf({ colours, shop });
 */
export async function swatchSheetPdf({ colours, shop }: Printed): Promise<Buffer> {
  const sheet = {
    title: 'Colours we make',
    author: shop.name,
    foot: `${shop.name} · ${dayText(shop.day)}`,
    madeAt: new Date(`${shop.day}T00:00:00Z`),
    size: shop.units === 'us' ? ('LETTER' as const) : ('A4' as const),
  };
  const doc = openDocument(sheet);
  filmStrip(doc, 7);
  write(doc, shop.name, { face: 'strong', size: 15 });
  write(doc, [shop.address, shop.contact].filter(Boolean).join('\n'), { size: 9, colour: inks.soft, gap: 8 });
  write(doc, 'Colours we make', { face: 'strong', size: 20, gap: 4 });
  write(
    doc,
    `${swatchCaution} A colour holds for the alloy and condition beside it, and once it is agreed as a colour standard. Ask for a sample.`,
    { gap: 4 },
  );
  const proved = colours.filter(({ alloy }) => alloy !== null);
  for (const metal of BaseMetal.options) {
    const own = proved.filter(({ alloy }) => alloy?.baseMetal === metal);
    if (own.length > 0) byMetal(doc, { metal, colours: own });
  }
  if (proved.length === 0) write(doc, 'No colour is proved that fits what was asked.');
  return closeDocument(doc, sheet);
}

function byMetal(
  doc: Document,
  { metal, colours }: { metal: BaseMetal; colours: readonly CatalogueColour[] },
): void {
  const name = baseMetalNames[metal];
  heading(doc, `${name[0]?.toUpperCase() ?? ''}${name.slice(1)}`);
  const gutter = 16;
  const width = (widthOf(doc) - gutter * (COLUMNS - 1)) / COLUMNS;
  for (let first = 0; first < colours.length; first += COLUMNS) {
    needRoom(doc, ROW + 14);
    const top = doc.y;
    const bottoms = colours.slice(first, first + COLUMNS).map((colour, column) => {
      swatch(doc, { colour, x: leftOf() + column * (width + gutter), top, width });
      return doc.y;
    });
    doc.y = Math.max(top + ROW, ...bottoms) + 6;
  }
  doc.x = leftOf();
}

function swatch(
  doc: Document,
  { colour, x, top, width }: { colour: CatalogueColour; x: number; top: number; width: number },
): void {
  const { recipe, alloy, grade, words, standard } = colour;
  const shown = colour.colour;
  const srgb = shown === null ? null : labToSrgb(shown.lab);
  doc
    .save()
    .lineWidth(4)
    .rect(x + 2, top + 2, PATCH.width - 4, PATCH.height - 4);
  if (srgb === null) doc.lineWidth(0.5).strokeColor(inks.line).stroke();
  else doc.fillAndStroke(srgb.hex, '#8a8a8a');
  doc.restore();
  const text = { x: x + PATCH.width + 8, width: width - PATCH.width - 8, gap: 0 };
  write(doc, recipe.name, { ...text, y: top, face: 'strong', size: 10 });
  write(doc, [alloy?.name, alloy?.condition, standard?.name].filter(Boolean).join(', '), {
    ...text,
    size: 9,
  });
  write(doc, shown === null ? `${words || 'no words'}, not measured` : labWords(shown.lab), {
    ...text,
    ...{ size: 9, face: 'figure' },
  });
  const notes = [
    srgb?.inGamut === false ? 'outside what a screen or printer can show' : '',
    colour.class === null ? '' : colourClassNames[colour.class],
    grade === null ? '' : colourGradeNames[grade],
    shown?.conditions ? conditionsWords(shown.conditions) : '',
  ];
  write(doc, notes.filter(Boolean).join('; '), { ...text, size: 8, colour: inks.soft });
}
