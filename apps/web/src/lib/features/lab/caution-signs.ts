import type { CautionSign } from '@huelot/contracts';

/** Outlines on a 24 by 24 grid, drawn for Huelot; they stand inside the triangle or circle of the sign. */
export const cautionDrawings: Record<CautionSign, string> = {
  'pour-order': 'M5 5l6 2-3 5zM11 8.5l1.5 2.5M4 15.5h16M6 15.5l1 5h10l1-5M14 10v3M12.5 12l1.5 1.5 1.5-1.5',
  'no-metal': 'M12 3v6a3 3 0 1 1-3 3M5 5l14 14M4 17h6M15 17h5',
  splash:
    'M12 3c2.5 3.2 3.6 5.2 3.6 7a3.6 3.6 0 0 1-7.2 0c0-1.8 1.1-3.8 3.6-7M3.5 20.5h17M5 16.5l2 1.5M19 16.5l-2 1.5M12 16v2',
  scald: 'M7 13c-1.5-2 1.5-3.5 0-6M12 13c-1.5-2 1.5-3.5 0-6M17 13c-1.5-2 1.5-3.5 0-6M3.5 17.5h17M5 20.5h14',
  electricity: 'M13.5 2.5L6 13.5h5L9.5 21.5 18 10h-5.5z',
  'flammable-gas':
    'M12 21c-3.8 0-6-2.4-6-5.6 0-3.6 3-5 3.4-9.4 3.4 1.5 4.2 4 4.2 5.6.8-.6 1.2-1.4 1.3-2.4 2 1.6 3.1 3.8 3.1 6.2 0 3.2-2.2 5.6-6 5.6',
  'toxic-gas':
    'M4 9c2-2 4 2 6 0s4 2 6 0 3 1 4 0M4 14c2-2 4 2 6 0s4 2 6 0 3 1 4 0M4 19c2-2 4 2 6 0s4 2 6 0 3 1 4 0',
  poison: 'M12 3a6 6 0 0 1 3.5 10.9V16h-7v-2.1A6 6 0 0 1 12 3M10 9.2v.2M14 9.2v.2M5 17l14 4M19 17L5 21',
  dust: 'M6 17h.2M10 14h.2M14 17h.2M18 14h.2M8 10h.2M12 7h.2M16 10h.2M4 20.5h16',
  level: 'M4 4v16.5h16V4M4 10.5h16M12 13v5M10 16l2 2 2-2',
  'face-shield': 'M5 8a7 5.5 0 0 1 14 0v1.5H5zM6.5 9.5v5c0 4 2.5 6 5.5 6s5.5-2 5.5-6v-5',
  exhaust: 'M5 20.5v-6h14v6M8.5 14.5L12 9l3.5 5.5M12 9V3M9.5 5.5L12 3l2.5 2.5',
  eyewash:
    'M3.5 9c2.5-3.5 5.3-5 8.5-5s6 1.5 8.5 5c-2.5 3.5-5.3 5-8.5 5S6 12.500 3.5 9M12 7.200a1.8 1.8 0 1 1 0 3.6 1.800 1.8 0 0 1 0-3.6M8 17.500v3M12 17v4M16 17.500v3',
};

/** What to do stands in a blue circle, what is dangerous in a yellow triangle, as ISO 3864 shapes them. */
export const isMandatory = (sign: CautionSign): boolean =>
  ['face-shield', 'exhaust', 'eyewash', 'pour-order'].includes(sign);
