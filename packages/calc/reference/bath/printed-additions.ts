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
/** The source takes the heat capacity before, its own formula asks for the one after: 3.44 and 3.45 K. */
export const a8Printed = { kJ: printed('9241'), riseK: [3.4, 0.06] satisfies Printed as Printed };
export const a9Printed = { mJ: printed('27.8'), riseK: printed('16.8') };
/** 1 m3 of 50 wt% KOH and 1 m3 of water at 20 °C. */
export const mixedPrinted = { afterL: printed('1946'), percent: printed('30.1') };
/** About so many kelvin with the integral heat; the heat of infinite dilution stays above it. */
export const madeUpAtOncePrinted = { leastRiseK: 160 };
/** With 0.3 wt% of uncertainty a raise by 1 wt% is uncertain by so much of itself. */
export const raiseByOnePrinted = { relative: printed('0.3') };
