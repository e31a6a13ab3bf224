/** How far the chain reached, and the digest of its newest entry there: what is kept elsewhere. */
export interface Seal {
  position: number;
  /** 64 hexadecimal digits. */
  digest: string;
}

/**
 * A seal as people keep it: the position, a dash and the digest.
 *
 * @example
 * sealText({ position: 12, digest: 'ab…' }); // '12-ab…'
 */
export const sealText = ({ position, digest }: Seal): string => `${position}-${digest}`;

/**
 * Finds the one seal in a text: a line of a mail, the text of a printed page, or the seal alone. Spaces and line breaks
 * within it do not matter, as somebody may have typed it from paper.
 *
 * @returns null where there is none, or more than one
 */
export function parseSeal(text: string): Seal | null {
  const found = [
    ...text.matchAll(/(?<![\w-])(\d{1,15})\s*-\s*((?:[0-9a-f]\s*){63}[0-9a-f])(?![0-9a-f])/gi),
  ].map(([, position, digest = '']) => ({
    position: Number(position),
    digest: digest.replaceAll(/\s/g, '').toLowerCase(),
  }));
  const [first, ...others] = found;
  if (first === undefined || first.position < 1) return null;
  return others.every((other) => sealText(other) === sealText(first)) ? first : null;
}
