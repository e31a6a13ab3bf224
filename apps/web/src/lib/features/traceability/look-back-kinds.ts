import type { LookBackKind } from '@huelot/contracts';

export const lookBackKinds: Record<LookBackKind, string> = {
  bath: 'Bath',
  analysis: 'Analysis of a bath',
  instrument: 'Instrument of the lab',
  titrant: 'Titrant',
  'chemical-lot': 'Lot of a chemical',
  supply: 'Power supply',
  rack: 'Rack',
  person: 'Person who signed',
  'recipe-revision': 'Revision of a recipe',
};
