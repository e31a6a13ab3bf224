import { sameZone } from '../catalog/part-zones.ts';
import type { LotColour } from './colour-readings.ts';

/**
 * What a reading in a zone is judged by: the standard of the zone, else that of the part. Undefined where the part has zones
 * and this is none of them; an empty zone is the rest of the piece.
 *
 * @example
 * agreedIn(colour, 'Edge')?.code // 'DUSK-4'
 */
export function agreedIn(
  { agreed, zones }: Pick<LotColour, 'agreed' | 'zones'>,
  zone: string,
): LotColour['agreed'] | undefined {
  if (zones.length === 0 || zone.trim() === '') return agreed;
  const named = zones.find(({ name }) => sameZone(name, zone));
  return named === undefined ? undefined : (named.agreed ?? agreed);
}

/**
 * Places of a piece that have to be read, with what each is judged by: the rest of the piece as `''`, and every zone with a
 * standard of its own.
 *
 * @example
 * zonesToRead(colour).map(({ zone }) => zone) // ['', 'Edge']
 */
export function zonesToRead({
  agreed,
  zones,
}: Pick<LotColour, 'agreed' | 'zones'>): { zone: string; agreed: NonNullable<LotColour['agreed']> }[] {
  return [{ name: '', agreed }, ...zones].flatMap(({ name, agreed: own }) =>
    own === null ? [] : [{ zone: name, agreed: own }],
  );
}
