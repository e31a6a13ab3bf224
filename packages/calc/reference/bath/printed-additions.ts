import { type Printed, printed } from '../worked-examples.ts';

/**
 * Results of the worked examples of `requests.ts`: mass balances of solute and water by hand, with the densities of
 * this folder (Laliberté 2009); heat of solution by Parker, NSRDS-NBS 2, 1965.
 */
export const a1Printed = { bathKg: printed('579.76'), stockKg: printed('43.5'), afterL: printed('419.8') };
/** The liquor at the density that the source states for it. */
export const a2Printed = {
  bathKg: printed('730.3'),
  stockKg: printed('146.1'),
  stockL: printed('96.0'),
  stockKgPerM3: 1521.4,
};
const a3Strengths = { beforePercent: printed('14.549'), targetPercent: printed('16.190') };
export const a3Printed = {
  ...a3Strengths,
  decantKg: printed('10.32'),
  decantL: printed('9.39'),
  stockKg: printed('22.40'),
  stockL: printed('12.20'),
  afterL: printed('1000'),
  stockKgPerM3: 1835.5,
};
export const a3FreePrinted = {
  ...a3Strengths,
  stockKg: printed('22.61'),
  stockL: printed('12.32'),
  afterL: printed('1009.5'),
};
export const a4Printed = { waterKg: printed('18.03'), afterL: printed('417') };
export const a5Printed = {
  share: printed('0.583'),
  decantL: printed('233'),
  leftGramsPerLitre: printed('25.0'),
  volumesBled: printed('0.875'),
  bledL: printed('350'),
};
export const a6Printed = { waterKg: printed('15.92'), nowPercent: printed('51.1'), fullKg: printed('742.4') };
export const a7From380Printed = {
  bathKg: printed('548.57'),
  markKg: printed('593.88'),
  /** What the flake would be if there were room for its water. */
  balanceKg: printed('46.50'),
  waterKg: 0,
};
export const a7From395Printed = {
  decantKg: printed('20.1'),
  decantL: printed('13.85'),
  stockKg: printed('41.4'),
};
/**
 * The formula of the source asks for the heat capacity afterwards, 2652 J/(kg K) at 45.4 wt%, which makes 3.45 K; the
 * one that it prints is that of 45.0 wt% before, and with it the rise is the 3.44 K that it rounds to 3.4.
 * Expected it has 2.3 K, with the 39 +-5 kJ/mol of the last increment into 50 wt%, for a bath of 45: right to 5 in 39.
 */
export const a8Printed = {
  kJ: printed('9241'),
  jPerKgKBefore: printed('2661'),
  riseK: printed('3.4'),
  riseKAfter: [3.4, 0.06] satisfies Printed as Printed,
  expectedRiseK: [2.3, 0.3] satisfies Printed as Printed,
};
/** The last increment into 50 wt% KOH, derived from Balej 1985 as the integral heat is (D), kJ/mol. */
export const lastIncrementPrinted: Printed = [39, 5];
export const a9Printed = { mJ: printed('27.8'), riseK: printed('16.8') };
/** 1 m3 of 50 wt% KOH and 1 m3 of water at 20 °C. */
export const mixedPrinted = { afterL: printed('1946'), percent: printed('30.1') };
/**
 * 428 MJ from 500 kg of KOH, and about so many kelvin with a heat capacity of 2.6 kJ/(kg K): right to the 4 in 48
 * kJ/mol of the integral heat. The heat of infinite dilution stays above it.
 */
export const madeUpAtOncePrinted = {
  mJ: printed('428'),
  riseK: [160, 13.4] satisfies Printed as Printed,
};
/** With 0.3 wt% of uncertainty a raise by 1 wt% is uncertain by so much of itself. */
export const raiseByOnePrinted = { relative: printed('0.3') };
