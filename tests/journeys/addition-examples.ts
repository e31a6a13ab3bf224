import type { Solute } from '@huelot/contracts';
import * as source from '../../packages/calc/reference/bath/printed-additions.ts';
import * as request from '../../packages/calc/reference/bath/requests.ts';
import type { Printed } from '../../packages/calc/reference/worked-examples.ts';
import { density, topUpEvaporation } from '../../packages/calc/src/index.ts';
import type { EnteredAddition } from './entered-addition.ts';

const percent = (share: number) => Number((100 * share).toFixed(6));
const times = ([right, within]: Printed, factor: number): Printed => [right * factor, within * factor];
const near = (right: number, within: number): Printed => [right, within];

interface Raise {
  solute: Solute;
  volumeL: number;
  fullVolumeL: number;
  freeboardL: number;
  temperatureC: number;
  massFraction: number;
  targetMassFraction: number;
  stock: EnteredAddition['stock'];
}
/** A request in shares of mass, as it is typed. */
const typedAs = (options: Raise) => ({
  kind: 'chemical' as const,
  setup: { solute: options.solute, fullVolumeL: options.fullVolumeL, freeboardL: options.freeboardL },
  stock: options.stock,
  typed: {
    volumeL: options.volumeL,
    temperatureC: options.temperatureC,
    massFraction: percent(options.massFraction),
    targetMassFraction: percent(options.targetMassFraction),
  },
});
const { a1, a2, a3, a4, a5, a6, a8, a9, madeUpAtOnce } = request;
const acid = (freeboardL: number) => ({
  kind: 'chemical' as const,
  setup: { solute: a3.solute, fullVolumeL: a3.fullVolumeL, freeboardL, inLitres: true },
  stock: { ...a3.stock, densityKgPerM3: source.a3Printed.stockKgPerM3 },
  typed: {
    volumeL: a3.volumeL,
    temperatureC: a3.temperatureC,
    massFraction: 160,
    targetGramsPerLitre: a3.targetGramsPerLitre,
  },
});

/** A bath of so many kilograms, to which so many are added. */
const litresOf = (options: { solute: Solute; massFraction: number; temperatureC: number; kg: number }) =>
  Number(((1000 * options.kg) / density(options).kgPerM3).toFixed(4));
const soluteKg = a8.bath.kg * a8.bath.massFraction + a8.stockKg * a8.stock.massFraction;
const warmed = {
  ...a1,
  volumeL: litresOf({ ...a8.bath, solute: a8.solute }),
  fullVolumeL: litresOf({ ...a8.bath, solute: a8.solute }),
  massFraction: a8.bath.massFraction,
  targetMassFraction: soluteKg / (a8.bath.kg + a8.stockKg),
};
const pelletsKg = a9.bath.kg + a9.stockKg;
const pellets = { solute: a9.solute, massFraction: a9.stockKg / pelletsKg, temperatureC: 20, kg: pelletsKg };
/** 1 m3 of water at 20 °C as the share of the mixture that it is. */
const water = 998.2 / (998.2 + density({ ...a1, massFraction: 0.5, temperatureC: 20 }).kgPerM3);

export const additionExamples: readonly EnteredAddition[] = [
  {
    name: 'A1, raised with flake',
    ...typedAs(a1),
    facts: [
      ['Stock, total', 'kg', source.a1Printed.stockKg],
      ['Stands at', 'L', source.a1Printed.afterL],
    ],
    record: [
      ['Mass', 'Before', 'kg', source.a1Printed.bathKg],
      ['Volume', 'After', 'L', source.a1Printed.afterL],
    ],
  },
  {
    name: 'A2, raised with liquor',
    ...typedAs({
      ...a2,
      stock: { ...a2.stock, densityKgPerM3: source.a2Printed.stockKgPerM3 },
    }),
    facts: [
      ['Stock, total', 'kg', source.a2Printed.stockKg],
      ['Stock, total', 'L', source.a2Printed.stockL],
    ],
    record: [['Mass', 'Before', 'kg', source.a2Printed.bathKg]],
  },
  {
    name: 'A3, acid in g/L, decanted first',
    ...acid(a3.freeboardL),
    facts: [
      ['Stock, total', 'kg', source.a3Printed.stockKg],
      ['Stock, total', 'L', source.a3Printed.stockL],
      ['Ends at', 'wt%', source.a3Printed.targetPercent],
      ['Stands at', 'L', source.a3Printed.afterL],
    ],
    steps: [
      ['Decant', 'L', source.a3Printed.decantL],
      ['Decant', 'kg', source.a3Printed.decantKg],
    ],
    record: [['Concentration', 'Before', 'wt%', source.a3Printed.beforePercent]],
  },
  {
    name: 'A3, acid in g/L, with room above the mark',
    ...acid(request.a3Free.freeboardL),
    facts: [
      ['Stock, total', 'kg', source.a3FreePrinted.stockKg],
      ['Stock, total', 'L', source.a3FreePrinted.stockL],
      ['Stands at', 'L', source.a3FreePrinted.afterL],
    ],
    without: ['Decant'],
  },
  {
    name: 'A4, lowered with water',
    ...typedAs(a4),
    facts: [
      ['Water, total', 'kg', source.a4Printed.waterKg],
      ['Stands at', 'L', source.a4Printed.afterL],
    ],
  },
  {
    name: 'A5, carbonate cut by a dump',
    ...typedAs(a5),
    setup: { ...typedAs(a5).setup, impurity: true },
    typed: { ...typedAs(a5).typed, 'impurity.targetGramsPerLitre': a5.impurity.targetGramsPerLitre },
    steps: [['Decant', 'L', source.a5Printed.decantL]],
    facts: [['Impurity then', 'g/L', source.a5Printed.leftGramsPerLitre]],
    words: [
      ['of the bath at once', '%', times(source.a5Printed.share, 100)],
      ['Bled and fed slowly', 'L', source.a5Printed.bledL],
      ['Bled and fed slowly', 'times', source.a5Printed.volumesBled],
    ],
    record: [['Impurity', 'After', 'g/L', source.a5Printed.leftGramsPerLitre]],
  },
  {
    name: 'A6, evaporation by the dip stick',
    kind: 'water',
    setup: { solute: a6.solute, fullVolumeL: a6.fullVolumeL, freeboardL: 30 },
    stock: request.flake,
    typed: { temperatureC: a6.temperatureC, massFractionWhenFull: percent(a6.massFractionWhenFull) },
    // 15 L in a tank of 0.6 L to the millimetre.
    dipMm: 25,
    steps: [['Add water', 'kg', source.a6Printed.waterKg]],
    words: [['while it is low', 'wt%', source.a6Printed.nowPercent]],
  },
  {
    name: 'A6, evaporation as a plan of strength',
    ...typedAs({
      ...a1,
      fullVolumeL: a6.fullVolumeL,
      volumeL: a6.volumeL,
      massFraction: topUpEvaporation(a6).massFractionNow,
    }),
    facts: [['Water, total', 'kg', source.a6Printed.waterKg]],
    record: [['Mass', 'After', 'kg', source.a6Printed.fullKg]],
  },
  {
    name: 'A7 from 380 L: no room for water',
    ...typedAs(request.a7From380),
    without: ['Add water'],
    record: [
      ['Mass', 'Before', 'kg', source.a7From380Printed.bathKg],
      ['Mass', 'After', 'kg', source.a7From380Printed.markKg],
    ],
  },
  {
    name: 'A7 from 395 L: decanted first',
    ...typedAs(request.a7From395),
    facts: [['Stock, total', 'kg', source.a7From395Printed.stockKg]],
    steps: [
      ['Decant', 'L', source.a7From395Printed.decantL],
      ['Decant', 'kg', source.a7From395Printed.decantKg],
    ],
  },
  {
    name: 'A8, heat of flake in a strong bath',
    ...typedAs(warmed),
    facts: [['Stock, total', 'kg', near(a8.stockKg, 0.005)]],
    // The printed 3.4 is 3.44, by the heat capacity before; by that after, as the formula has it, 3.45, shown as 3.5.
    warmsK: { about: source.a8Printed.expectedRiseK, most: near(source.a8Printed.riseK[0], 0.1) },
    heatKj: source.a8Printed.kJ,
  },
  {
    name: 'A9, heat of pellets in water',
    kind: 'make-up',
    setup: { solute: a9.solute, fullVolumeL: 300, freeboardL: 30 },
    stock: a9.stock,
    typed: {
      fullVolumeL: litresOf(pellets),
      temperatureC: a9.bath.temperatureC,
      targetMassFraction: percent(pellets.massFraction),
    },
    facts: [
      ['Stock, total', 'kg', near(a9.stockKg, 0.005)],
      ['Water, total', 'kg', near(a9.bath.kg, 0.05)],
    ],
    warmsK: { most: source.a9Printed.riseK },
    heatKj: times(source.a9Printed.mJ, 1000),
  },
  {
    name: 'made up at once, it would boil',
    kind: 'make-up',
    setup: { solute: madeUpAtOnce.solute, fullVolumeL: 300, freeboardL: 30 },
    stock: madeUpAtOnce.stock,
    typed: {
      fullVolumeL: madeUpAtOnce.fullVolumeL,
      temperatureC: madeUpAtOnce.temperatureC,
      targetMassFraction: percent(madeUpAtOnce.targetMassFraction),
    },
    // The most is the same with the heat of infinite dilution in place of the integral one.
    warmsK: {
      about: source.madeUpAtOncePrinted.riseK,
      most: times(source.madeUpAtOncePrinted.riseK, 57.61 / 48),
    },
    words: [['portions of', 'portions', near(40, 9.5)]],
  },
  {
    name: 'volumes do not add',
    ...typedAs({
      ...a1,
      ...{ volumeL: 1000, fullVolumeL: 1000, freeboardL: 2000, temperatureC: 20, massFraction: 0.5 },
      targetMassFraction: 0.5 * (1 - water),
    }),
    facts: [
      ['Water, total', 'kg', near(998.2, 0.05)],
      ['Ends at', 'wt%', source.mixedPrinted.percent],
      ['Stands at', 'L', source.mixedPrinted.afterL],
    ],
  },
];
