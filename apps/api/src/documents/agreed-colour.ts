import { labToSrgb } from '@huelot/calc';
import {
  conditionsWords,
  firstArticleStatement,
  labWords,
  standardWords,
  swatchCaution,
  toleranceWords,
  type AgreedColour,
  type PartZone,
} from '@huelot/contracts';
import { dayText } from './figures.ts';
import { inks, leftOf, needRoom, write, type openDocument } from './page-parts.ts';

type Document = ReturnType<typeof openDocument>;

const WIDTH = 44;
const HEIGHT = 22;
const endNames = { light: 'Light end', target: 'Target', dark: 'Dark end' } as const;

/**
 * Whether a paper may promise the colour: an approved revision that a person stands for, that still counts on the last day of the
 * offer, known well enough to be held to.
 *
 * @example
 * isPromised(line.part.agreedColour, shown.validUntil)
 */
export const isPromised = (colour: AgreedColour | null, until: string): boolean =>
  colour !== null &&
  colour.status === 'approved' &&
  !colour.unconfirmed &&
  (colour.grade === 'measured' || colour.grade === 'compared') &&
  (colour.expiresOn === null || colour.expiresOn >= until);

/** What an offer says of the colour of a line, and no more than the record can be held to. */
export function promisedColour(
  colour: AgreedColour | null,
  { recipeColour, until }: { recipeColour: string; until: string },
): string {
  if (colour === null) {
    const words = recipeColour === '' ? 'No colour was agreed' : `${recipeColour}, in words only`;
    return `${words}: a colour standard is to be agreed, and no tolerance is promised until then.`;
  }
  const name = `${colour.name}, standard ${standardWords(colour)}`;
  if (isPromised(colour, until)) return [name, ...heldTo(colour)].join('. ') + '.';
  if (colour.status === 'approved' && colour.unconfirmed)
    return `${name}. ${firstArticleStatement}: what was agreed is not confirmed, and no tolerance is promised until then.`;
  const { expiresOn } = colour;
  const why =
    colour.status === 'approved' && expiresOn !== null && expiresOn < until
      ? `It counts until ${dayText(expiresOn)} only, before this offer ends: it is to be agreed anew`
      : 'It is not agreed and approved yet';
  return `${name}. ${why}, and no tolerance is promised until then.`;
}

/** What a reading or a comparison is held to. */
export function heldTo({ grade, target, tolerance, conditions, instrument, sample }: AgreedColour): string[] {
  const figures =
    grade === 'measured' && target !== null && tolerance !== null
      ? [
          labWords(target),
          toleranceWords(tolerance),
          ...(conditions === null
            ? []
            : [`Read under ${conditionsWords(conditions)}${instrument ? `, ${instrument}` : ''}`]),
        ]
      : [];
  const piece =
    sample === null
      ? []
      : [
          `${grade === 'measured' ? 'Sample' : 'Two people compare with the sample'}: ${sample.name}${sample.keptAt ? `, kept ${sample.keptAt}` : ''}`,
        ];
  return [...figures, ...piece];
}

/** A zone on paper: its alloy where it has one of its own, and its colour or that it has the colour of the part. */
export const zoneText = (
  { material, agreedColour }: PartZone,
  inWords: (colour: AgreedColour) => string,
): string =>
  [
    material === null ? '' : [material.name, material.condition].filter(Boolean).join(', '),
    agreedColour === null ? 'colour as the rest of the part' : inWords(agreedColour),
  ]
    .filter(Boolean)
    .join('. ');

/** The colours of a part: that of the whole, and those of zones that have their own. */
export const coloursOf = ({
  agreedColour,
  zones,
}: {
  agreedColour: AgreedColour | null;
  zones: readonly PartZone[];
}): { name: string; colour: AgreedColour | null }[] => [
  { name: '', colour: agreedColour },
  ...zones.flatMap(({ name, agreedColour: colour }) => (colour === null ? [] : [{ name, colour }])),
];

/** Patches of the target and its ends, each with its figures; paper does not show colour, and says so. */
export function swatches(doc: Document, colour: AgreedColour | null, zone = ''): void {
  const ends = (['light', 'target', 'dark'] as const).flatMap((end) => {
    const lab = colour?.[end] ?? null;
    return lab === null ? [] : [{ end, lab }];
  });
  if (ends.length === 0) return;
  needRoom(doc, HEIGHT * ends.length + 30);
  for (const { end, lab } of ends) {
    const top = doc.y + 3;
    const { hex, inGamut } = labToSrgb(lab);
    doc
      .save()
      .lineWidth(3)
      .rect(leftOf() + 1.5, top + 1.5, WIDTH - 3, HEIGHT - 6)
      .fillAndStroke(hex, '#8a8a8a')
      .restore();
    const note = inGamut ? '' : ' (outside what a screen or printer can show)';
    write(doc, `${[zone, endNames[end]].filter(Boolean).join(', ')}: ${labWords(lab)}${note}`, {
      ...{ x: leftOf() + WIDTH + 10, y: top + 3, size: 9, gap: 0 },
    });
    doc.y = top + HEIGHT - 2;
  }
  write(doc, swatchCaution, { size: 8, colour: inks.soft, gap: 4 });
}
