import { checkFinite } from '../check.ts';
import { fallingCurrent } from '../electro/index.ts';
import type { Job, JobCurrency, JobRack } from './job.ts';

/** The current a step draws, and how it falls. */
interface StepCurrent {
  peakCurrentDensityAPerM2: number;
  steadyCurrentDensityAPerM2: number;
  timeConstantS: number | null;
  averageVoltageV: number;
  /** As measured; null computes it from the current. */
  chargeCPerM2: number | null;
}

export interface RouteStep {
  /** What the tank holds; null is work outside the line. */
  contents: string | null;
  durationS: number;
  dripS: number;
  settings: readonly { quantity: string; target: number | null }[];
  electrical: StepCurrent | null;
}

export interface QuotedRates {
  labourPerHour: number;
  energyPerKwh: number;
  waterPerM3: number;
  wastePerM3: number;
  overheadShare: number;
  overheadPerLabourHour: number;
  marginShare: number;
  minimumLot: number;
  expediteShare: number;
  charges: { certificateCost: number };
}

export interface QuotedFamilyRates {
  linePerHour: number;
  heatingKw: number;
  rinseLPerLoad: number;
  reworkShare: number;
  stripPerM2: number;
  chemical: {
    consumptionGPerM2: number;
    pricePerKg: number;
    dragOutLPerM2: number;
    concentrationGPerL: number;
    recoveryShare: number;
  };
}

export interface QuotedOptions {
  maskingFeatures: number;
  masking: { timeS: number; materialCost: number };
  labour: { setupS: number; rackS: number; unrackS: number; inspectS: number; packS: number };
  certificate: boolean;
  packingCost: number;
  expedite: boolean;
  validatedPieces: number | null;
  oneOffs: readonly { label: string; amount: number }[];
}

export interface QuotedJob {
  quantity: number;
  part: {
    areaMm2: number;
    electricalAreaMm2: number;
    massKg: number;
    widthMm: number | null;
    heightMm: number | null;
    heatCapacityJPerKgK: number;
  };
  steps: readonly RouteStep[];
  rack: JobRack;
  /** The supply the electrolytic steps run on; null for work without current. */
  supply: { maxCurrentA: number; efficiency: number } | null;
  rates: QuotedRates;
  familyRates: QuotedFamilyRates;
  options: QuotedOptions;
  /** What the customer is quoted in; the currency of the rates, with two decimals, when left out. */
  currency?: JobCurrency | undefined;
}

/** Pieces come from the room; common practice, no source. */
const ROOM_C = 20;

/** The charge that passes per area while a step lasts: the measured figure, else that of the falling current. */
const chargeOf = (electrical: StepCurrent, durationS: number): number =>
  electrical.chargeCPerM2 ??
  fallingCurrent({
    peakAPerM2: electrical.peakCurrentDensityAPerM2,
    steadyAPerM2: electrical.steadyCurrentDensityAPerM2,
    timeConstantS: electrical.timeConstantS,
    afterS: durationS,
  }).chargeCPerM2;

/**
 * The job that a line of a quotation comes to: part, route, rack, supply, rates and what the estimator chose, put
 * together under the names that {@link priceJob} computes with. The browser and the server both price through it.
 *
 * A load occupies the line for the time of every step in a tank, dripping included. The highest current density of the
 * route sizes the load; charges of its steps add up, voltages are weighted by charge. The pieces are warmed from 20 °C to
 * the hottest bath.
 *
 * Units in the names. Source: common practice, no source. Errors: `not-finite` with the path of the
 * figure; the ranges are checked by {@link priceJob}.
 *
 * @example
 * quotedJob(EXAMPLE_QUOTED_JOB).process.cycleS // 840
 */
export function quotedJob(input: QuotedJob): Job {
  checkFinite('', input);
  const { steps, options, rates, familyRates, supply } = input;
  const electrolytic = steps.flatMap(({ electrical, durationS }) =>
    electrical === null ? [] : [{ ...electrical, charge: chargeOf(electrical, durationS) }],
  );
  const charge = electrolytic.reduce((sum, step) => sum + step.charge, 0);
  const work = electrolytic.reduce((sum, step) => sum + step.charge * step.averageVoltageV, 0);
  const hottestC = Math.max(ROOM_C, ...steps.flatMap(({ settings }) => temperaturesOf(settings)));
  const inTank = steps.filter(({ contents }) => contents !== null);
  return {
    quantity: input.quantity,
    part: {
      ...input.part,
      masks:
        options.maskingFeatures === 0
          ? []
          : [{ label: 'masked features', count: options.maskingFeatures, ...options.masking }],
    },
    rack: input.rack,
    limits: { maxCurrentA: supply?.maxCurrentA ?? null, validatedPieces: options.validatedPieces },
    process: {
      peakAPerM2: Math.max(
        0,
        ...electrolytic.map(({ peakCurrentDensityAPerM2 }) => peakCurrentDensityAPerM2),
      ),
      chargeCPerM2: charge,
      averageVoltageV: charge === 0 ? 0 : work / charge,
      rectifierEfficiency: supply?.efficiency ?? 1,
      cycleS: inTank.reduce((sum, { durationS, dripS }) => sum + durationS + dripS, 0),
      heatingKw: familyRates.heatingKw,
      temperatureRiseK: hottestC - ROOM_C,
      rinseLPerLoad: familyRates.rinseLPerLoad,
      chemicals: [familyRates.chemical],
    },
    labour: options.labour,
    charges: {
      certificateCost: options.certificate ? rates.charges.certificateCost : 0,
      packingCost: options.packingCost,
      oneOffs: options.oneOffs,
    },
    rates: {
      labourPerHour: rates.labourPerHour,
      linePerHour: familyRates.linePerHour,
      energyPerKwh: rates.energyPerKwh,
      waterPerM3: rates.waterPerM3,
      wastePerM3: rates.wastePerM3,
      stripPerM2: familyRates.stripPerM2,
      reworkShare: familyRates.reworkShare,
      overheadShare: rates.overheadShare,
      overheadPerLabourHour: rates.overheadPerLabourHour,
      marginShare: rates.marginShare,
      minimumLot: rates.minimumLot,
      expediteShare: options.expedite ? rates.expediteShare : 0,
    },
    currency: input.currency,
  };
}

const temperaturesOf = (settings: RouteStep['settings']): number[] =>
  settings.flatMap(({ quantity, target }) =>
    quantity === 'temperatureC' && target !== null ? [target] : [],
  );
