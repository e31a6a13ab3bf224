import type { ScanFinish } from '@huelot/contracts';

export const finishNames: Record<ScanFinish, string> = {
  bare: 'bare',
  coloured: 'coloured',
  'coloured-and-sealed': 'coloured and sealed',
  'coloured-and-oiled': 'coloured and oiled',
};

/** The same finish has the same colour in every picture. */
export const finishColours: Record<ScanFinish, string> = {
  bare: 'var(--series-5)',
  coloured: 'var(--series-1)',
  'coloured-and-sealed': 'var(--series-3)',
  'coloured-and-oiled': 'var(--series-4)',
};
