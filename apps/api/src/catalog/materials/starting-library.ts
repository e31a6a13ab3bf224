import type { MaterialFacts } from '@huelot/contracts';

/**
 * Where the figures come from. P: read in the source named. M: from memory, to be checked before anything tight rests on
 * it. A material carries the weaker mark of its two figures.
 */
const cp = {
  crc: 'heat capacity: CRC Handbook as tabulated at matmake.com (P)',
  steel: 'heat capacity: carbon steel, engineeringtoolbox.com d_152 (P)',
  austenitic: 'heat capacity: austenitic stainless steel, material-properties.org (P)',
  memory: 'heat capacity: common handbook value, from memory (M)',
  makeItFrom: 'heat capacity: makeitfrom.com (P)',
  sheet: 'heat capacity: data sheet of 5052 and 6061, cctprecision.com (P)',
};
const rho = {
  titanium: 'density: titanium data sheet, affordengineeringplastic.com (P)',
  ti64: 'density: Ti-6Al-4V data sheet, luminatitan.com (P)',
  tantalum: 'density: element table of tantalum, enplanet.co.kr (P)',
  aluminiumManual: 'density: nominal densities of the Aluminum Association specification manual (P)',
  nikkei: 'density: table of alloys, group.nikkeikin.co.jp (P)',
  makeItFrom: 'density: makeitfrom.com (P)',
  memory: 'density: common handbook value, from memory (M)',
};

type Entry = Omit<MaterialFacts, 'notes' | 'source'> & { from: readonly [string, string]; notes?: string };

const shade = 'Shade depends on alloy and condition: prove the settings on coupons of the same material.';
const steelShade =
  'Shade shifts with carbon, alloy and heat treatment: a martensitic edge and a pearlitic back take different colours.';

// prettier-ignore
const entries: readonly Entry[] = [
  { name: 'Titanium grade 1', designation: 'UNS R50250', condition: 'annealed', baseMetal: 'titanium', densityKgPerM3: 4510, heatCapacityJPerKgK: 524, evidence: 'P', from: [rho.titanium, cp.crc], notes: shade },
  { name: 'Titanium grade 2', designation: 'UNS R50400', condition: 'annealed', baseMetal: 'titanium', densityKgPerM3: 4510, heatCapacityJPerKgK: 524, evidence: 'P', from: [rho.titanium, cp.crc], notes: shade },
  { name: 'Titanium grade 4', designation: 'UNS R50700', condition: 'annealed', baseMetal: 'titanium', densityKgPerM3: 4510, heatCapacityJPerKgK: 524, evidence: 'M', from: [rho.memory, cp.crc], notes: shade },
  { name: 'Titanium grade 5, Ti-6Al-4V', designation: 'UNS R56400', condition: 'annealed', baseMetal: 'titanium', densityKgPerM3: 4420, heatCapacityJPerKgK: 560, evidence: 'P', from: [rho.ti64, cp.makeItFrom], notes: 'Colours differ from grade 2 at the same voltage. ' + shade },
  { name: 'Titanium grade 9, Ti-3Al-2.5V', designation: 'UNS R56320', condition: 'cold worked, stress relieved', baseMetal: 'titanium', densityKgPerM3: 4480, heatCapacityJPerKgK: 544, evidence: 'M', from: [rho.memory, cp.memory], notes: shade },
  { name: 'Titanium grade 23, Ti-6Al-4V ELI', designation: 'UNS R56401', condition: 'annealed', baseMetal: 'titanium', densityKgPerM3: 4430, heatCapacityJPerKgK: 560, evidence: 'M', from: [rho.memory, cp.memory], notes: shade },
  { name: 'Niobium, commercial', designation: 'UNS R04210', condition: 'annealed', baseMetal: 'niobium', densityKgPerM3: 8570, heatCapacityJPerKgK: 265, evidence: 'M', from: [rho.memory, cp.crc], notes: shade },
  { name: 'Tantalum', designation: 'UNS R05200', condition: 'annealed', baseMetal: 'tantalum', densityKgPerM3: 16_650, heatCapacityJPerKgK: 140, evidence: 'P', from: [rho.tantalum, cp.crc], notes: shade },
  { name: 'Zirconium 702', designation: 'UNS R60702', condition: 'annealed', baseMetal: 'zirconium', densityKgPerM3: 6510, heatCapacityJPerKgK: 278, evidence: 'M', from: [rho.memory, cp.crc], notes: 'Shades are empirical, not predicted. ' + shade },
  { name: 'Carbon steel 1018', designation: 'UNS G10180', condition: 'cold drawn', baseMetal: 'steel', densityKgPerM3: 7870, heatCapacityJPerKgK: 490, evidence: 'M', from: [rho.memory, cp.steel], notes: steelShade },
  { name: 'Carbon steel 1075', designation: 'UNS G10750', condition: 'hardened and tempered', baseMetal: 'steel', densityKgPerM3: 7850, heatCapacityJPerKgK: 490, evidence: 'M', from: [rho.memory, cp.steel], notes: steelShade },
  { name: 'Carbon steel 1095', designation: 'UNS G10950', condition: 'hardened and tempered', baseMetal: 'steel', densityKgPerM3: 7850, heatCapacityJPerKgK: 490, evidence: 'M', from: [rho.memory, cp.steel], notes: steelShade },
  { name: 'Alloy steel 4140', designation: 'UNS G41400', condition: 'quenched and tempered', baseMetal: 'steel', densityKgPerM3: 7850, heatCapacityJPerKgK: 475, evidence: 'M', from: [rho.memory, cp.memory], notes: 'Many alloy steels turn brown or gold. ' + steelShade },
  { name: 'Tool steel O1', designation: 'UNS T31501', condition: 'hardened and tempered', baseMetal: 'steel', densityKgPerM3: 7800, heatCapacityJPerKgK: 470, evidence: 'P', from: [rho.makeItFrom, cp.makeItFrom], notes: steelShade },
  { name: 'Pattern-welded steel 1084 and 15N20', designation: '', condition: 'hardened and tempered', baseMetal: 'steel', densityKgPerM3: 7850, heatCapacityJPerKgK: 475, evidence: 'M', from: [rho.memory, cp.memory], notes: 'The nickel-bearing layers colour differently from the plain ones. ' + steelShade },
  { name: 'Stainless steel 304', designation: 'UNS S30400', condition: 'annealed', baseMetal: 'stainless-steel', densityKgPerM3: 7940, heatCapacityJPerKgK: 500, evidence: 'M', from: [rho.memory, cp.austenitic] },
  { name: 'Stainless steel 316', designation: 'UNS S31600', condition: 'annealed', baseMetal: 'stainless-steel', densityKgPerM3: 7980, heatCapacityJPerKgK: 500, evidence: 'M', from: [rho.memory, cp.austenitic] },
  { name: 'Aluminium 1100', designation: 'UNS A91100', condition: 'H14', baseMetal: 'aluminium', densityKgPerM3: 2710, heatCapacityJPerKgK: 897, evidence: 'P', from: [rho.aluminiumManual, cp.crc] },
  { name: 'Aluminium 2024', designation: 'UNS A92024', condition: 'T3', baseMetal: 'aluminium', densityKgPerM3: 2780, heatCapacityJPerKgK: 875, evidence: 'M', from: [rho.aluminiumManual, cp.memory], notes: 'Copper makes the film soft and the dye uneven: try first.' },
  { name: 'Aluminium 5052', designation: 'UNS A95052', condition: 'H32', baseMetal: 'aluminium', densityKgPerM3: 2680, heatCapacityJPerKgK: 880, evidence: 'P', from: [rho.aluminiumManual, cp.sheet] },
  { name: 'Aluminium 6061', designation: 'UNS A96061', condition: 'T6', baseMetal: 'aluminium', densityKgPerM3: 2700, heatCapacityJPerKgK: 896, evidence: 'P', from: [rho.nikkei, cp.sheet] },
  { name: 'Aluminium 6063', designation: 'UNS A96063', condition: 'T6', baseMetal: 'aluminium', densityKgPerM3: 2690, heatCapacityJPerKgK: 900, evidence: 'M', from: [rho.nikkei, cp.memory] },
  { name: 'Aluminium 7075', designation: 'UNS A97075', condition: 'T6', baseMetal: 'aluminium', densityKgPerM3: 2810, heatCapacityJPerKgK: 960, evidence: 'M', from: [rho.memory, cp.memory] },
];

/** Alloys that a shop meets first, with the source and the standing of both figures. */
export const startingLibrary: readonly MaterialFacts[] = entries.map(({ from, notes = '', ...entry }) => ({
  ...entry,
  notes,
  source: `${from[0].charAt(0).toUpperCase()}${from[0].slice(1)}; ${from[1]}`,
}));
