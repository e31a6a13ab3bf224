import { listInstruments, type Instrument } from '@huelot/contracts';
import { api } from '$lib/api.ts';

/** The colour meters of the lab that are in use, by code. */
export const readColourMeters = async (): Promise<Instrument[]> =>
  (await api(listInstruments, { query: { kind: 'colour-meter', limit: 200 } })).items;

/** How a list to choose from names them; one that is overdue for its calibration says so. */
export const meterOptions = (meters: readonly Instrument[], none: string) => [
  { value: null, label: none },
  ...meters.map(({ id, code, name, calibrationOverdue }) => ({
    value: id,
    label: `${code} ${name}${calibrationOverdue ? ' (calibration overdue)' : ''}`,
  })),
];
