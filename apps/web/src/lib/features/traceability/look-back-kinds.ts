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

/** What was looked for where nothing is bound, by the kind of what was wrong. */
export const unbound: Record<LookBackKind, string> = {
  bath: 'No step was signed in this bath.',
  analysis: 'No step was signed in its bath before the next analysis of the same components.',
  instrument:
    'No analysis that a step was signed upon, no colour of a lot, no reading at a tank and no evidence behind a recipe names it.',
  titrant: 'No step was signed upon an analysis that was titrated with it.',
  'chemical-lot': 'No step was signed in a bath after any of it went in.',
  supply: 'No step was signed with this power supply.',
  rack: 'No step of a lot on this rack was signed.',
  person: 'This person signed no step.',
  'recipe-revision': 'No step of this revision was signed.',
};
