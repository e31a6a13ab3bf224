import type { Waste, WasteCategory } from '@huelot/contracts';

/** A waste record while it is typed. */
export type WasteValues = Omit<Waste, 'volumeL'> & { volumeL: number | null };

export const wasteNames: Record<WasteCategory, string> = {
  alkaline: 'alkaline',
  acid: 'acid',
  'metal-bearing': 'metal-bearing',
  'fluoride-bearing': 'fluoride-bearing',
  dye: 'dye',
  'rinse-water': 'rinse water',
  reused: 'used again',
  other: 'other',
};
