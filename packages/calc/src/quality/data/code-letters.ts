/**
 * MIL-STD-105E (10 May 1989, public domain), table I: sample size code letters. Evidence P: 105 of 105 cells agree in two
 * sources. Each row serves lots above the row before it and up to `upTo` pieces; the printed table starts at 2 pieces.
 */
export const INSPECTION_LEVELS = ['S-1', 'S-2', 'S-3', 'S-4', 'I', 'II', 'III'] as const;

export type InspectionLevel = (typeof INSPECTION_LEVELS)[number];

// prettier-ignore
export const CODE_LETTERS = [
  //                            S-1  S-2  S-3  S-4   I    II   III
  { upTo:        8, letters: ['A', 'A', 'A', 'A', 'A', 'A', 'B'] },
  { upTo:       15, letters: ['A', 'A', 'A', 'A', 'A', 'B', 'C'] },
  { upTo:       25, letters: ['A', 'A', 'B', 'B', 'B', 'C', 'D'] },
  { upTo:       50, letters: ['A', 'B', 'B', 'C', 'C', 'D', 'E'] },
  { upTo:       90, letters: ['B', 'B', 'C', 'C', 'C', 'E', 'F'] },
  { upTo:      150, letters: ['B', 'B', 'C', 'D', 'D', 'F', 'G'] },
  { upTo:      280, letters: ['B', 'C', 'D', 'E', 'E', 'G', 'H'] },
  { upTo:      500, letters: ['B', 'C', 'D', 'E', 'F', 'H', 'J'] },
  { upTo:     1200, letters: ['C', 'C', 'E', 'F', 'G', 'J', 'K'] },
  { upTo:     3200, letters: ['C', 'D', 'E', 'G', 'H', 'K', 'L'] },
  { upTo:    10000, letters: ['C', 'D', 'F', 'G', 'J', 'L', 'M'] },
  { upTo:    35000, letters: ['C', 'D', 'F', 'H', 'K', 'M', 'N'] },
  { upTo:   150000, letters: ['D', 'E', 'G', 'J', 'L', 'N', 'P'] },
  { upTo:   500000, letters: ['D', 'E', 'G', 'J', 'M', 'P', 'Q'] },
  { upTo: Infinity, letters: ['D', 'E', 'H', 'K', 'N', 'Q', 'R'] },
] as const;
