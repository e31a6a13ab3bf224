import type { ColourFile } from './colour-file.ts';
import { isCgats, readCgats } from './read-cgats.ts';
import { readColourCsv } from './read-colour-csv.ts';

/**
 * Readings out of a file of a colour instrument, whichever of the two open forms it has: {@link readCgats} where its first
 * line says so, else {@link readColourCsv}.
 *
 * Valid for texts of up to 500 readings.
 * Source: as the two readers state.
 * Errors: `malformed`, as the two readers state.
 *
 * @example
 * readColourFile('L,a,b\n50,0,0').format // 'CSV'
 */
export const readColourFile = (text: string): ColourFile =>
  isCgats(text) ? readCgats(text) : readColourCsv(text);
