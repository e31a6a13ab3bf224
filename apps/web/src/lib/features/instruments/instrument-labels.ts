import type { Instrument } from '@huelot/contracts';

export const instrumentKinds: Record<Instrument['kind'], string> = {
  burette: 'burette',
  pipette: 'pipette',
  balance: 'balance',
  'ph-meter': 'pH meter',
  'conductivity-meter': 'conductivity meter',
  hydrometer: 'hydrometer',
  thermometer: 'thermometer',
  'colour-meter': 'colour meter',
  other: 'other',
};
