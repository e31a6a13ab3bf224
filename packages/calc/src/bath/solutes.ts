import { checkName } from '../check.ts';

/** The solutes that baths are made of. */
export const solutes = ['KOH', 'NaOH', 'H2SO4', 'H3PO4', 'Na3PO4', 'K2CO3', 'Na2CO3', 'NH4_2SO4'] as const;
export type Solute = (typeof solutes)[number];

/** What may be dissolved beside them and lifts the density: aluminium sulfate in an anodizing bath. */
export const dissolvedSalts = [...solutes, 'Al2_SO4_3'] as const;
export type DissolvedSalt = (typeof dissolvedSalts)[number];

export type Caustic = 'KOH' | 'NaOH';

/** The carbonate that each caustic forms with the carbon dioxide of the air. */
export const carbonateOf = { KOH: 'K2CO3', NaOH: 'Na2CO3' } as const;
export const hydrogencarbonateOf = { KOH: 'KHCO3', NaOH: 'NaHCO3' } as const;

export const isCaustic = (solute: DissolvedSalt): solute is Caustic => solute === 'KOH' || solute === 'NaOH';

export const checkSolute = (value: unknown): Solute => checkName('solute', value, solutes);
export const checkCaustic = (value: unknown): Caustic => checkName('solute', value, ['KOH', 'NaOH']);
