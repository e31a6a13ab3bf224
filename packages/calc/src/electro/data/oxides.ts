export interface Oxide {
  label: string;
  metal: string;
  molarMassGPerMol: number;
  /** Electrons that pass for each formula unit: 8 for Fe3O4, 10 for Nb2O5. */
  electrons: number;
  densityGPerCm3: number;
  /** How far the density can be trusted: P read in a published table, M from memory. */
  densityEvidence: 'P' | 'M';
  /** Thickness that a volt gives on a metal whose film is set by voltage; bands of the literature, from memory (M). */
  nmPerVolt: readonly [low: number, high: number] | null;
}

/**
 * Anodic oxides. Densities of the solids: CRC Handbook of Chemistry and Physics, physical constants of inorganic
 * compounds (P); that of anodic alumina is recalled, 2.9 to 3.2 g/cm3 (M). A film formed anodically is often less dense
 * than the mineral.
 */
export const OXIDES = {
  // prettier-ignore
  Fe3O4: { label: 'magnetite on iron', metal: 'iron', molarMassGPerMol: 231.533, electrons: 8, densityGPerCm3: 5.17, densityEvidence: 'P', nmPerVolt: null },
  // prettier-ignore
  Fe2O3: { label: 'hematite on iron', metal: 'iron', molarMassGPerMol: 159.687, electrons: 6, densityGPerCm3: 5.25, densityEvidence: 'P', nmPerVolt: null },
  // prettier-ignore
  TiO2_anatase: { label: 'TiO₂ of anatase density on titanium', metal: 'titanium', molarMassGPerMol: 79.866, electrons: 4, densityGPerCm3: 3.9, densityEvidence: 'P', nmPerVolt: [1.5, 2.5] },
  // prettier-ignore
  TiO2_rutile: { label: 'TiO₂ of rutile density on titanium', metal: 'titanium', molarMassGPerMol: 79.866, electrons: 4, densityGPerCm3: 4.17, densityEvidence: 'P', nmPerVolt: [1.5, 2.5] },
  // prettier-ignore
  Nb2O5: { label: 'Nb₂O₅ on niobium', metal: 'niobium', molarMassGPerMol: 265.81, electrons: 10, densityGPerCm3: 4.47, densityEvidence: 'P', nmPerVolt: [2.2, 2.9] },
  // prettier-ignore
  Ta2O5: { label: 'Ta₂O₅ on tantalum', metal: 'tantalum', molarMassGPerMol: 441.893, electrons: 10, densityGPerCm3: 8.24, densityEvidence: 'P', nmPerVolt: [1.6, 2.0] },
  // prettier-ignore
  ZrO2: { label: 'ZrO₂ on zirconium', metal: 'zirconium', molarMassGPerMol: 123.223, electrons: 4, densityGPerCm3: 5.68, densityEvidence: 'P', nmPerVolt: [2.0, 2.7] },
  // prettier-ignore
  Al2O3_alpha: { label: 'Al₂O₃ of corundum density on aluminium', metal: 'aluminium', molarMassGPerMol: 101.961, electrons: 6, densityGPerCm3: 3.99, densityEvidence: 'P', nmPerVolt: [1.2, 1.4] },
  // prettier-ignore
  Al2O3_anodic: { label: 'anodic Al₂O₃ on aluminium', metal: 'aluminium', molarMassGPerMol: 101.961, electrons: 6, densityGPerCm3: 3.1, densityEvidence: 'M', nmPerVolt: [1.2, 1.4] },
} as const satisfies Record<string, Oxide>;

export type OxideName = keyof typeof OXIDES;

export const OXIDE_NAMES = Object.keys(OXIDES) as OxideName[];
