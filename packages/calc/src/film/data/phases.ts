/**
 * Cells of what is found in and under oxide films, Å, with the lines that are looked for. Lattice parameters as on the powder
 * diffraction cards named, from memory; the strengths are those of the cards, of 100.
 */
interface Phase {
  name: string;
  formula: string;
  card: string;
  cell: { a: number; b?: number; c?: number; isHexagonal?: boolean };
  /** Miller indices, each below 10, with the strength. */
  lines: readonly { hkl: string; strength: number }[];
}
const line = (hkl: string, strength: number) => ({ hkl, strength });

export const phases = {
  magnetite: {
    ...{ name: 'magnetite', formula: 'Fe3O4', card: '19-629', cell: { a: 8.396 } },
    lines: [line('220', 30), line('311', 100), line('400', 20), line('511', 30), line('440', 40)],
  },
  maghemite: {
    ...{ name: 'maghemite', formula: 'γ-Fe2O3', card: '39-1346', cell: { a: 8.3515 } },
    lines: [line('220', 35), line('311', 100), line('400', 16), line('511', 24), line('440', 34)],
  },
  hematite: {
    ...{ name: 'hematite', formula: 'α-Fe2O3', card: '33-664' },
    cell: { a: 5.0356, c: 13.7489, isHexagonal: true },
    lines: [
      ...[line('012', 30), line('104', 100), line('110', 70), line('113', 20)],
      ...[line('024', 40), line('116', 45), line('214', 30), line('300', 30)],
    ],
  },
  wuestite: {
    ...{ name: 'wüstite', formula: 'FeO', card: '6-615', cell: { a: 4.307 } },
    lines: [line('111', 80), line('200', 100), line('220', 60)],
  },
  goethite: {
    ...{ name: 'goethite', formula: 'α-FeOOH', card: '29-713', cell: { a: 4.608, b: 9.956, c: 3.0215 } },
    lines: [line('020', 12), line('110', 100), line('130', 35), line('111', 50), line('140', 20)],
  },
  ferrite: {
    ...{ name: 'ferrite of the steel', formula: 'α-Fe', card: '6-696', cell: { a: 2.8664 } },
    lines: [line('110', 100), line('200', 20), line('211', 30)],
  },
  anatase: {
    ...{ name: 'anatase', formula: 'TiO2', card: '21-1272', cell: { a: 3.7852, b: 3.7852, c: 9.5139 } },
    lines: [line('101', 100), line('004', 20), line('200', 35)],
  },
  rutile: {
    ...{ name: 'rutile', formula: 'TiO2', card: '21-1276', cell: { a: 4.5933, b: 4.5933, c: 2.9592 } },
    lines: [line('110', 100), line('101', 50), line('211', 60)],
  },
  titanium: {
    ...{ name: 'titanium of the metal', formula: 'α-Ti', card: '44-1294' },
    cell: { a: 2.9505, c: 4.6826, isHexagonal: true },
    lines: [line('100', 25), line('002', 30), line('101', 100), line('102', 13), line('110', 11)],
  },
} as const satisfies Record<string, Phase>;
export type PhaseName = keyof typeof phases;
export const phaseNames = Object.keys(phases) as PhaseName[];
export const phaseOf = (name: PhaseName): Phase => phases[name];

/** Wavelengths of Kα1, Å (International Tables for Crystallography C, from memory). */
export const radiations = {
  'Cu-Ka': 1.54056,
  'Co-Ka': 1.78897,
  'Fe-Ka': 1.93604,
  'Cr-Ka': 2.2897,
  'Mo-Ka': 0.7093,
} as const;
export type Radiation = keyof typeof radiations;
export const radiationNames = Object.keys(radiations) as Radiation[];
