import type { Seen } from './spool.ts';

/** Eighty bytes of header and the count of facets; fifty bytes a facet. */
const headerBytes = 84;
const facetBytes = 50;

/** What keeps a mesh from being measured, as far as its ends and its size tell; null when nothing does. */
export function stlFault({ head, tail, sizeBytes, text }: Seen): string | null {
  const facets = sizeBytes < headerBytes ? 0 : head.readUInt32LE(80);
  const expectedBytes = headerBytes + facetBytes * facets;
  if (facets > 0 && sizeBytes === expectedBytes) return null;
  if (text && /^\s*solid\b/i.test(head.toString('latin1'))) return textStlFault(head, tail);
  if (facets === 0) return 'holds no facet';
  return sizeBytes < expectedBytes
    ? `was cut short: it states ${facets} facets and ends before the last`
    : `goes on after the last of the ${facets} facets it states`;
}

function textStlFault(head: Buffer, tail: Buffer): string | null {
  if (!/\bfacet\b/i.test(head.toString('latin1'))) return 'holds no facet';
  return /\bendsolid\b/i.test(tail.toString('latin1'))
    ? null
    : 'was cut short: it does not end with endsolid';
}

/** An exchange file (ISO 10303-21) ends with its name. */
export const stepFault = ({ tail }: Seen): string | null =>
  tail.includes('END-ISO-10303-21') ? null : 'was cut short: it does not end with END-ISO-10303-21';
