import type { ChemicalForm, ChemicalHazard, ChemicalLotStatus, StockMovement } from '@huelot/contracts';

export const formNames: Record<ChemicalForm, string> = {
  solid: 'solid, weighed',
  liquid: 'solution, weighed or metered',
};

export const hazardNames: Record<ChemicalHazard, string> = {
  corrosive: 'Corrosive',
  oxidising: 'Oxidising',
  toxic: 'Toxic',
  fluoride: 'Contains fluoride',
  sensitising: 'Sensitising',
  flammable: 'Flammable',
  dust: 'Dust',
  environment: 'Harmful to water and soil',
};

export const lotStates = {
  open: { label: 'open', tone: 'good' },
  quarantined: { label: 'quarantined', tone: 'caution' },
  finished: { label: 'finished', tone: 'quiet' },
} as const satisfies Record<ChemicalLotStatus, object>;

export const movementNames: Record<StockMovement['kind'], string> = {
  receipt: 'received',
  use: 'used in a bath',
  correction: 'booking corrected',
  adjustment: 'found by a count',
  disposal: 'disposed of',
};
