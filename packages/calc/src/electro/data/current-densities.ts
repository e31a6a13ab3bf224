export interface CurrentDensityReport {
  metal: string;
  electrolyte: string;
  /** Lowest and highest current density reported, A/m2. */
  rangeAPerM2: readonly [low: number, high: number];
  note: string;
  source: string;
  /** P read in the publication; C common practice without a source. */
  evidence: 'P' | 'C';
}

/** Current densities reported for the work a shop does, as a check on what is typed. */
export const CURRENT_DENSITIES: readonly CurrentDensityReport[] = [
  {
    metal: 'titanium',
    electrolyte: 'sulfuric acid',
    rangeAPerM2: [5, 20],
    note: 'starts near 20 and falls to 5; 15 to 20 V for 15 min or to colour',
    source: 'ISO 8080:2021, extract',
    evidence: 'P',
  },
  {
    metal: 'titanium, Ti-12',
    electrolyte: '0.1 mol/L ferrous ammonium sulfate',
    rangeAPerM2: [40, 640],
    note: 'constant current, 37 to 77 °C, research',
    source: 'Anodic behaviour of titanium-12, abstract',
    evidence: 'P',
  },
  {
    metal: 'titanium',
    electrolyte: '0.1 mol/L ammonium pentaborate',
    rangeAPerM2: [50, 50],
    note: 'research',
    source: 'Habazaki et al., J. Corros. Sci. Eng. 6, paper 107',
    evidence: 'P',
  },
  {
    metal: 'aluminium',
    electrolyte: 'sulfuric acid, for dyeing',
    rangeAPerM2: [129, 258],
    note: '12 to 24 A/ft² near 20 °C: 25 µm in 60 to 30 min',
    source: 'rule of 720, trade press',
    evidence: 'P',
  },
  {
    metal: 'steel',
    electrolyte: '50 wt% potassium hydroxide',
    rangeAPerM2: [1000, 1000],
    note: '50 to 90 °C, cell voltage 2 to 3 V; a nominal window',
    source: 'common practice, no source',
    evidence: 'C',
  },
  {
    metal: 'mild steel',
    electrolyte: '5 to 15 % sodium hydroxide',
    rangeAPerM2: [1000, 4000],
    note: '100 to 200 °C, 5 to 60 min, black magnetite',
    source: 'Machmudah et al., Chem. Eng. J. 268 (2015) 76, abstract',
    evidence: 'P',
  },
];
