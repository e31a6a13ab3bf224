import type { Waste } from '@huelot/contracts';

/** A waste record while it is typed. */
export type WasteValues = Omit<Waste, 'volumeL'> & { volumeL: number | null };
