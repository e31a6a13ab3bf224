import type { MethodSettings, TitrantReagent } from '@huelot/contracts';
import * as source from '../../packages/calc/reference/bath/printed-titrations.ts';
import * as readings from '../../packages/calc/reference/bath/readings.ts';
import { titrateCausticTwoEndPoints } from '../../packages/calc/src/index.ts';
import type { Printed } from '../../packages/calc/reference/worked-examples.ts';

/** How a bath is watched decides what a result is said in. */
export type Watched = 'nothing' | 'moles' | 'grams at 20 °C' | 'mass fraction';

export interface EnteredExample {
  name: string;
  /** Code of a method that every shop starts with, and what the example states otherwise. */
  method: string;
  settings?: Partial<MethodSettings>;
  /** Reagent, eq/L and their standard uncertainty. */
  titrant?: readonly [reagent: TitrantReagent, eqPerLitre: number, u: number];
  /** What is typed, by the name of the field behind `readings.replicates.0.`. */
  typed: Readonly<Record<string, number>>;
  watched?: Watched;
  /** A float: what it is read as, and what else is dissolved. */
  float?: { solute: string; dissolved: 'nothing' | { salt: string; gramsPerLitre: number } };
  found: Readonly<Record<string, source.PrintedAmount>>;
  gramsPerMl?: Printed;
}

const uncertainty = (input: { readingMl: number; sampleRelative: number }) => ({
  uncertainty: { ...input, reading: 0 },
});
const inGrams = ([right, within]: Printed, factor: number): Printed => [right * factor, within * factor];

const { t1, t2, t3, t4, t5, t5Acidified, phosphoric, assay, t6, t7 } = readings;
const twoEndPoints = ({ firstEndPointMl, secondEndPointMl }: typeof t1 | typeof t5 | typeof t5Acidified) => ({
  firstEndPointMl,
  secondEndPointMl,
});
const koh = { solute: 'KOH', dissolved: 'nothing' } as const;
const acid = { solute: 'H2SO4', dissolved: 'nothing' } as const;

const warder = {
  name: 'T1',
  method: 'CAUSTIC-2',
  settings: uncertainty({ ...t1.uncertainty }),
  titrant: ['HCl', t1.titrantEqPerLitre, t1.titrantEqPerLitre * t1.uncertainty.titrantRelative],
  typed: { amount: t1.sample.volumeMl, ...twoEndPoints(t1) },
  found: source.t1Printed,
  gramsPerMl: inGrams(source.t1KgPerM3, 0.001),
} as const;
const phosphate = {
  name: 'T5',
  method: 'PHOSPHATE',
  titrant: ['HCl', t5.titrantEqPerLitre, 0],
  typed: { amount: t5.sample.volumeMl, ...twoEndPoints(t5) },
  found: source.t5Printed,
} as const;
const fluoride = {
  name: 'T4',
  method: 'ACID-AL-F',
  settings: uncertainty({ ...t4.uncertainty }),
  titrant: ['NaOH', t4.titrantEqPerLitre, t4.titrantEqPerLitre * t4.uncertainty.titrantRelative],
  typed: { amount: t4.sample.volumeMl, acidMl: t4.acidMl, totalMl: t4.totalMl },
  found: source.t4Printed,
} as const;

export const titrationExamples: readonly EnteredExample[] = [
  warder,
  { ...warder, name: 'T1 in mol/L', watched: 'moles' },
  {
    name: 'T2',
    method: 'CAUSTIC-BA',
    titrant: ['HCl', t2.titrantEqPerLitre, 0],
    typed: { amount: t2.sample.massG, totalMl: t2.totalMl, hydroxideMl: t2.hydroxideMl },
    found: source.t2Printed,
  },
  {
    name: 'T3',
    method: 'ACID-AL-2',
    titrant: ['NaOH', t3.titrantEqPerLitre, 0],
    typed: { amount: t3.sample.volumeMl, acidMl: t3.acidMl, totalMl: t3.totalMl },
    found: source.t3Printed,
  },
  fluoride,
  {
    ...fluoride,
    name: 'T4 with fluoride alone',
    method: 'ACID-FREE',
    typed: { amount: t4.sample.volumeMl, endPointMl: t4.acidMl },
    found: { H2SO4: { gramsPerLitre: source.t4Printed.H2SO4.gramsPerLitre } },
  },
  {
    ...fluoride,
    name: 'T4 without fluoride',
    method: 'ACID-FREE',
    settings: { aluminium: 'counted' },
    typed: { amount: t4.sample.volumeMl, endPointMl: t4.totalMl },
    found: { totalSulfate: source.t4Printed.totalSulfate },
  },
  phosphate,
  { ...phosphate, name: 'T5 in mol/L', watched: 'moles' },
  {
    ...phosphate,
    name: 'T5 acidified',
    typed: { amount: t5.sample.volumeMl, ...twoEndPoints(t5Acidified) },
    found: { 'Na3PO4-left': { gramsPerLitre: source.t5AcidifiedPrinted['Na3PO4-left'].gramsPerLitre } },
  },
  {
    ...phosphate,
    name: 'T5 acidified, in mol/L',
    watched: 'moles',
    typed: { amount: t5.sample.volumeMl, ...twoEndPoints(t5Acidified) },
    found: source.t5AcidifiedPrinted,
  },
  {
    name: 'phosphoric acid',
    method: 'PHOSPHORIC',
    titrant: ['NaOH', phosphoric.titrantEqPerLitre, 0],
    typed: {
      amount: phosphoric.sample.volumeMl,
      firstEndPointMl: phosphoric.firstEndPointMl,
      secondEndPointMl: phosphoric.secondEndPointMl,
    },
    found: source.phosphoricPrinted,
  },
  {
    name: 'assay of KOH, 1 mL of bath',
    method: 'CAUSTIC-2',
    settings: { sample: { basis: 'volume', amount: 1, dilution: null } },
    titrant: ['HCl', assay.titrantEqPerLitre, 0],
    typed: {
      amount: 1,
      firstEndPointMl: assay.firstEndPointMl,
      secondEndPointMl: assay.secondEndPointMl,
    },
    found: {
      totalAlkali: { gramsPerLitre: inGrams(source.assayMgPerMl.KOH, 10) },
      K2CO3: { gramsPerLitre: source.assayMgPerMl.K2CO3 },
    },
  },
  {
    ...fluoride,
    name: 'published factors of sulfuric acid, 10 mL each',
    titrant: ['NaOH', 1, 0],
    typed: { amount: 10, acidMl: 10, totalMl: 20 },
    found: {
      H2SO4: { gramsPerLitre: inGrams(source.sulfuricPerMl.H2SO4, 10) },
      Al: { gramsPerLitre: inGrams(source.sulfuricPerMl.Al, 10) },
    },
  },
  {
    name: 'T6',
    method: 'FLOAT',
    typed: { reading: t6.reading, temperatureC: t6.sampleTemperatureC },
    float: koh,
    found: {
      KOH: {
        massPercent: source.t6Printed.KOH.massPercent,
        gramsPerLitre: source.t6Printed.KOH.gramsPerLitre,
      },
    },
    gramsPerMl: source.t6GramsPerMl,
  },
  {
    name: 'T6 in wt%',
    method: 'FLOAT',
    typed: { reading: t6.reading, temperatureC: t6.sampleTemperatureC },
    watched: 'mass fraction',
    float: koh,
    found: {
      KOH: { massPercent: source.t6Printed.KOH.massPercent, uMassPercent: source.t6Printed.KOH.uMassPercent },
    },
  },
  {
    name: 'T6 once cooled',
    method: 'FLOAT',
    typed: { reading: t6.reading, temperatureC: t6.sampleTemperatureC },
    watched: 'grams at 20 °C',
    float: koh,
    found: source.t6CooledPrinted,
  },
  {
    name: 'T6 read against a table for 20 °C',
    method: 'FLOAT',
    typed: { reading: t6.reading, temperatureC: 20 },
    float: koh,
    found: { KOH: { massPercent: source.t6MisreadPercent } },
  },
  {
    name: 'T7, the float alone',
    method: 'FLOAT',
    typed: { reading: t7.reading, temperatureC: t7.sampleTemperatureC },
    float: acid,
    found: source.t7NaivePrinted,
  },
  {
    name: 'T7, told of the aluminium',
    method: 'FLOAT',
    typed: { reading: t7.reading, temperatureC: t7.sampleTemperatureC },
    float: {
      solute: 'H2SO4',
      dissolved: { salt: 'Al2_SO4_3', gramsPerLitre: t7.aluminiumSulfateGramsPerLitre },
    },
    found: source.t7Printed,
  },
  {
    name: 'T1 by a float alone',
    method: 'FLOAT',
    typed: {
      reading: Number((titrateCausticTwoEndPoints(t1).densityKgPerM3 / 1000).toFixed(4)),
      temperatureC: 20,
    },
    float: koh,
    found: { KOH: { massPercent: source.t1ByFloatPercent } },
  },
];
