import { exactly, type Printed, printed } from '../worked-examples.ts';

/**
 * Results of the worked examples of `readings.ts`. Worked by hand from the stoichiometry of each method (Warder 1881
 * and Winkler 1916 for caustic, a trade journal for sulfuric acid with aluminium) and, for wt%, the densities of this folder.
 */

/** One thing that was found, in the ways the source prints it; `u` is a standard uncertainty. */
export interface PrintedAmount {
  molPerLitre?: Printed;
  gramsPerLitre?: Printed;
  massPercent?: Printed;
  uGramsPerLitre?: Printed;
  uMassPercent?: Printed;
  /** Standard uncertainty, per cent of the amount. */
  uPercent?: Printed;
}
type PrintedAnalysis = Readonly<Record<string, PrintedAmount>>;

export const t1Printed = {
  KOH: {
    molPerLitre: exactly(13.25),
    gramsPerLitre: printed('743.4'),
    massPercent: printed('48.4'),
    uGramsPerLitre: printed('5.9'),
    uPercent: printed('0.79'),
  },
  K2CO3: {
    molPerLitre: exactly(0.35),
    gramsPerLitre: printed('48.4'),
    massPercent: printed('3.15'),
    uGramsPerLitre: printed('5.9'),
    uPercent: printed('12'),
  },
  totalAlkali: { molPerLitre: exactly(13.95), gramsPerLitre: printed('782.7') },
} as const satisfies PrintedAnalysis;
export const t1KgPerM3 = printed('1534');

export const t2Printed = {
  KOH: { massPercent: printed('49.75') },
  K2CO3: { massPercent: printed('1.73') },
  totalAlkali: { massPercent: printed('51.15') },
} as const satisfies PrintedAnalysis;

export const t3Printed = {
  H2SO4: { gramsPerLitre: printed('180.5') },
  Al: { gramsPerLitre: printed('7.20') },
} as const satisfies PrintedAnalysis;

export const t4Printed = {
  H2SO4: { gramsPerLitre: printed('182.8'), uGramsPerLitre: printed('0.6') },
  Al: { gramsPerLitre: printed('7.32'), uGramsPerLitre: printed('0.07') },
  totalSulfate: { gramsPerLitre: printed('222.8') },
} as const satisfies PrintedAnalysis;

export const t5Printed = {
  Na3PO4: { molPerLitre: exactly(0.291), gramsPerLitre: printed('47.7') },
  'Na3PO4-12H2O': { gramsPerLitre: printed('110.6') },
  NaOH: { molPerLitre: exactly(0.023), gramsPerLitre: printed('0.92') },
} as const satisfies PrintedAnalysis;
export const t5AcidifiedPrinted = {
  'Na3PO4-left': { molPerLitre: exactly(0.25), gramsPerLitre: printed('41.0') },
  Na2HPO4: { molPerLitre: exactly(0.05) },
  NaOH: { molPerLitre: exactly(0) },
} as const satisfies PrintedAnalysis;

export const phosphoricPrinted = {
  H3PO4: { gramsPerLitre: printed('200.9') },
} as const satisfies PrintedAnalysis;

export const t6Printed = {
  KOH: { massPercent: printed('48.1'), gramsPerLitre: printed('710.4'), uMassPercent: printed('0.10') },
} as const satisfies PrintedAnalysis;
/** The same bath once it has cooled to 20 °C. */
export const t6CooledPrinted = {
  KOH: { gramsPerLitre: printed('716.4') },
} as const satisfies PrintedAnalysis;
/** The density at 40 °C, and what a table for 20 °C would make of it. */
export const t6GramsPerMl = printed('1.47726');
export const t6MisreadPercent = printed('47.1');

/** The float alone, and told of the aluminium. */
export const t7NaivePrinted = {
  H2SO4: { gramsPerLitre: printed('277') },
} as const satisfies PrintedAnalysis;
export const t7Printed = {
  H2SO4: { gramsPerLitre: printed('180') },
} as const satisfies PrintedAnalysis;
/** What a float alone would make of the bath of T1. */
export const t1ByFloatPercent = printed('51.9');

/** mg of KOH and of K2CO3 that 1 mL of 1 N acid stands for. FAO JECFA, assay of potassium hydroxide. */
export const assayMgPerMl = { KOH: printed('56.11'), K2CO3: printed('138.2') };

/** g/L of acid and of aluminium that 1 mL of 1 N base stands for with 10 mL of sample: a trade journal, rounded. */
export const sulfuricPerMl = { H2SO4: printed('4.904'), Al: printed('0.8994') };
