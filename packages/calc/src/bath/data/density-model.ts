import type { DissolvedSalt } from '../solutes.ts';

/**
 * Coefficients of the density model of Laliberté and Cooper, J. Chem. Eng. Data 49 (2004) 1141, in the revision of
 * Laliberté, J. Chem. Eng. Data 54 (2009) 1725; read in two independent transcriptions, equal digit for digit.
 * Evidence P; what is computed from them is P-model. The ranges are those of the points each fit was made from.
 */
export interface DensityCoefficients {
  c: readonly [number, number, number, number, number];
  minC: number;
  maxC: number;
  maxMassFraction: number;
}

export const densityCoefficients: Readonly<Record<DissolvedSalt, DensityCoefficients>> = {
  KOH: {
    c: [821.119043254761, 1043.20173374381, 0.112873330222752, 0.00124023636407386, 539.630388368877],
    minC: 4, maxC: 95, maxMassFraction: 0.51861,
  },
  NaOH: {
    c: [319.020509469838, 528.592358475315, -0.102197896602724, 0.000350420706415566, 765.970470238438],
    minC: 4, maxC: 120, maxMassFraction: 0.502886,
  },
  H2SO4: {
    c: [70.8395152347122, 142.352693909248, 0.68779459618793, 0.00649299683206703, 1667.23864629522],
    minC: -11.15, maxC: 75, maxMassFraction: 0.782,
  },
  H3PO4: {
    c: [1288.25499332174, -4126.67487464815, -4.64682626086799, 0.00466168016728373, -944.459685828192],
    minC: 15.85, maxC: 81.4, maxMassFraction: 0.85,
  },
  Na3PO4: {
    c: [155.804085307097, 251.218167358366, -0.163160740820224, 0.000301220796704921, 1298.06956536295],
    minC: 25, maxC: 80, maxMassFraction: 0.3,
  },
  Na2CO3: {
    c: [5.45486543455015e-07, 1.72154929405038e-07, -0.0825850207323492, 0.00168822949783412, 4705.39822185746],
    minC: 0, maxC: 100.14, maxMassFraction: 0.209376,
  },
  K2CO3: {
    c: [2290.10867876218, 1038.77363895405, 0.109769327294915, 0.000497783340935823, -74.0786862142127],
    minC: 5, maxC: 95, maxMassFraction: 0.360581,
  },
  NH4_2SO4: {
    c: [618.24075073611, 966.128116121243, 0.602706202526747, 0.0016279026793269, 667.573420648081],
    minC: 15, maxC: 55, maxMassFraction: 0.429189,
  },
  Al2_SO4_3: {
    c: [-0.0054335130421113, 0.00615454451922733, -0.0281614954186176, 0.00391344328446045, 3645.62065396415],
    minC: 15, maxC: 95, maxMassFraction: 0.398,
  },
};
