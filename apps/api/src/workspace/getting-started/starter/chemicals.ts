import type { NewChemical } from '@huelot/contracts';
import type { Starter } from './starter.ts';

const grade = 'usual technical grade, common practice, no source: the label of your own decides';

type Told = Pick<NewChemical, 'formula' | 'form' | 'assayMassFraction' | 'hazards'> &
  Partial<NewChemical> &
  Partial<Pick<Starter<NewChemical>, 'source' | 'evidence'>>;
const chemical = (
  code: string,
  name: string,
  { source = grade, evidence = 'C', ...facts }: Told,
): Starter<NewChemical> => ({
  key: code,
  ...{ source, evidence },
  facts: {
    ...{ code, name, solute: null, impurityMassFraction: 0, densityKgPerM3: null, supplier: '' },
    ...{ reorderPointKg: null, sdsFileId: null },
    notes: 'From the starter set: compare with the label and add the safety data sheet.',
    ...facts,
  },
});

/** What the baths of the three families are made of; prices and stock are the shop's own. */
export const starterChemicals: readonly Starter<NewChemical>[] = [
  chemical('KOH-90', 'Potassium hydroxide flake', {
    ...{ formula: 'KOH', solute: 'KOH', form: 'solid', assayMassFraction: 0.9, hazards: ['corrosive'] },
  }),
  chemical('NAOH-99', 'Sodium hydroxide pearls', {
    ...{ formula: 'NaOH', solute: 'NaOH', form: 'solid', assayMassFraction: 0.99, hazards: ['corrosive'] },
  }),
  chemical('SA-96', 'Sulfuric acid 96 %', {
    ...{ formula: 'H2SO4', solute: 'H2SO4', form: 'liquid', assayMassFraction: 0.96, hazards: ['corrosive'] },
  }),
  chemical('PA-85', 'Phosphoric acid 85 %', {
    ...{ formula: 'H3PO4', solute: 'H3PO4', form: 'liquid', assayMassFraction: 0.85, hazards: ['corrosive'] },
  }),
  chemical('TSP-12', 'Trisodium phosphate dodecahydrate', {
    ...{ formula: 'Na3PO4·12H2O', solute: 'Na3PO4', form: 'solid' },
    ...{ assayMassFraction: 0.431, hazards: ['corrosive', 'dust'] },
    ...{ source: 'molar masses: 163.94 of 380.12 is bare salt, the rest is water', evidence: 'D' },
  }),
  chemical('AS-99', 'Ammonium sulfate', {
    ...{
      formula: '(NH4)2SO4',
      solute: 'NH4_2SO4',
      form: 'solid',
      assayMassFraction: 0.99,
      hazards: ['dust'],
    },
  }),
];
