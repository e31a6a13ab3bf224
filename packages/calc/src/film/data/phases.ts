/**
 * Cells of what is found in and under oxide films, Å, with the lines that are looked for. Lattice parameters as on the powder
 * diffraction cards named, from memory; the strengths are those of the cards, of 100.
 */
interface Phase {
  name: string;
  formula: string;
  card: string;
  cell: { a: number; b?: number; c?: number; isHexagonal?: boolean };
  lines: readonly { hkl: readonly [number, number, number]; strength: number }[];
}
const line = (h: number, k: number, l: number, strength: number) => ({ hkl: [h, k, l] as const, strength });

export const phases = {
  magnetite: {
    ...{ name: 'magnetite', formula: 'Fe3O4', card: '19-629', cell: { a: 8.396 } },
    lines: [line(2, 2, 0, 30), line(3, 1, 1, 100), line(4, 0, 0, 20), line(5, 1, 1, 30), line(4, 4, 0, 40)],
  },
  maghemite: {
    ...{ name: 'maghemite', formula: 'γ-Fe2O3', card: '39-1346', cell: { a: 8.3515 } },
    lines: [line(2, 2, 0, 35), line(3, 1, 1, 100), line(4, 0, 0, 16), line(5, 1, 1, 24), line(4, 4, 0, 34)],
  },
  hematite: {
    ...{ name: 'hematite', formula: 'α-Fe2O3', card: '33-664' },
    cell: { a: 5.0356, c: 13.7489, isHexagonal: true },
    lines: [
      ...[line(0, 1, 2, 30), line(1, 0, 4, 100), line(1, 1, 0, 70), line(1, 1, 3, 20)],
      ...[line(0, 2, 4, 40), line(1, 1, 6, 45), line(2, 1, 4, 30), line(3, 0, 0, 30)],
    ],
  },
  wuestite: {
    ...{ name: 'wüstite', formula: 'FeO', card: '6-615', cell: { a: 4.307 } },
    lines: [line(1, 1, 1, 80), line(2, 0, 0, 100), line(2, 2, 0, 60)],
  },
  goethite: {
    ...{ name: 'goethite', formula: 'α-FeOOH', card: '29-713', cell: { a: 4.608, b: 9.956, c: 3.0215 } },
    lines: [line(0, 2, 0, 12), line(1, 1, 0, 100), line(1, 3, 0, 35), line(1, 1, 1, 50), line(1, 4, 0, 20)],
  },
  ferrite: {
    ...{ name: 'ferrite of the steel', formula: 'α-Fe', card: '6-696', cell: { a: 2.8664 } },
    lines: [line(1, 1, 0, 100), line(2, 0, 0, 20), line(2, 1, 1, 30)],
  },
  anatase: {
    ...{ name: 'anatase', formula: 'TiO2', card: '21-1272', cell: { a: 3.7852, b: 3.7852, c: 9.5139 } },
    lines: [line(1, 0, 1, 100), line(0, 0, 4, 20), line(2, 0, 0, 35)],
  },
  rutile: {
    ...{ name: 'rutile', formula: 'TiO2', card: '21-1276', cell: { a: 4.5933, b: 4.5933, c: 2.9592 } },
    lines: [line(1, 1, 0, 100), line(1, 0, 1, 50), line(2, 1, 1, 60)],
  },
  titanium: {
    ...{ name: 'titanium of the metal', formula: 'α-Ti', card: '44-1294' },
    cell: { a: 2.9505, c: 4.6826, isHexagonal: true },
    lines: [line(1, 0, 0, 25), line(0, 0, 2, 30), line(1, 0, 1, 100), line(1, 0, 2, 13), line(1, 1, 0, 11)],
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
