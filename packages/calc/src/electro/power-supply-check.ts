import { checkNumber } from '../check.ts';

export interface PowerSupply {
  maxCurrentA: number;
  maxVoltageV: number;
  /** Output limit below the product of the two, where there is one. */
  maxPowerKw?: number | null | undefined;
  /** Direct-current power out over mains power in. */
  efficiency?: number | null | undefined;
  /** Mains power over apparent power; not the efficiency. */
  powerFactor?: number | null | undefined;
}

export type SupplyLimit = 'current' | 'voltage' | 'power';

export interface PowerSupplyCheck {
  /** Pieces and bare rack together, at the peak density. */
  currentA: number;
  /** At the supply: cell and circuit. */
  voltageV: number;
  powerKw: number;
  /** From the mains, losses included; null without an efficiency. */
  mainsPowerKw: number | null;
  /** What fuses and cables carry; null without efficiency and power factor. */
  mainsApparentKva: number | null;
  fits: boolean;
  /** The limit that is met first. */
  binding: SupplyLimit;
  /** Capacity over need at that limit, less one: 0.2 is a fifth more than needed, below zero does not fit. */
  margin: number;
  /** Most area of pieces at once, with the same rack; zero when the rack alone or the voltage is too much. */
  largestAreaM2: number;
  /** Common sizing, a fifth above the need. */
  advisedCurrentA: number;
  advisedVoltageV: number;
  flags: string[];
}

/** Sizing by a fifth over the need; common practice, no source. */
const SPARE = 0.2;

/**
 * Whether a power supply carries a load, what it meets first, and the most area it would take.
 *
 * The peak density counts, not the mean, and the bare metal of the rack draws current like the pieces. `voltageV` is that
 * of the cell, the drop in the liquid included; `circuitResistanceOhm` adds leads and contacts in series (0 when left
 * out). Energy is bought on the mains side: `mainsPowerKw`, while cables and fuses are sized by `mainsApparentKva`.
 *
 * Units: m2 of area that draws current, A/m2, V, A, kW, ohm. Ranges: area and density more than zero.
 * Source: Ohm's law; the spare fifth is common practice, no source. Errors: `not-finite`, `out-of-range`.
 *
 * @example
 * const supply = { maxCurrentA: 500, maxVoltageV: 6, efficiency: 0.85, powerFactor: 0.9 };
 * powerSupplyCheck({ areaM2: 0.35, rackAreaM2: 0, peakAPerM2: 1000, voltageV: 2.6, supply })
 * // { currentA: 350, powerKw: 0.91, fits: true, binding: 'current', margin: 0.428571, largestAreaM2: 0.5 }
 */
export function powerSupplyCheck(input: {
  areaM2: number;
  rackAreaM2: number;
  peakAPerM2: number;
  voltageV: number;
  supply: PowerSupply;
  circuitResistanceOhm?: number | undefined;
}): PowerSupplyCheck {
  const areaM2 = checkNumber('areaM2', input.areaM2, { above: 0 });
  const rackAreaM2 = checkNumber('rackAreaM2', input.rackAreaM2, { min: 0 });
  const density = checkNumber('peakAPerM2', input.peakAPerM2, { above: 0 });
  const cellV = checkNumber('voltageV', input.voltageV, { above: 0 });
  const resistance = checkNumber('circuitResistanceOhm', input.circuitResistanceOhm ?? 0, { min: 0 });
  const supply = checkSupply(input.supply);

  const currentA = (areaM2 + rackAreaM2) * density;
  const voltageV = cellV + currentA * resistance;
  const powerKw = (currentA * voltageV) / 1000;
  const ratios: { limit: SupplyLimit; ratio: number }[] = [
    { limit: 'current', ratio: supply.maxCurrentA / currentA },
    { limit: 'voltage', ratio: supply.maxVoltageV / voltageV },
    { limit: 'power', ratio: (supply.maxPowerKw ?? Infinity) / powerKw },
  ];
  const tightest = ratios.reduce((least, next) => (next.ratio < least.ratio ? next : least));
  const mostCurrentA = Math.min(
    supply.maxCurrentA,
    currentByVoltage({ spareV: supply.maxVoltageV - cellV, resistance }),
    currentByPower({ powerW: 1000 * (supply.maxPowerKw ?? Infinity), cellV, resistance }),
  );
  const { efficiency, powerFactor } = supply;
  const mainsPowerKw = efficiency === null ? null : powerKw / efficiency;
  const margin = tightest.ratio - 1;
  return {
    currentA,
    voltageV,
    powerKw,
    mainsPowerKw,
    mainsApparentKva: mainsPowerKw === null || powerFactor === null ? null : mainsPowerKw / powerFactor,
    fits: margin >= 0,
    binding: tightest.limit,
    margin,
    largestAreaM2: Math.max(0, mostCurrentA / density - rackAreaM2),
    advisedCurrentA: currentA * (1 + SPARE),
    advisedVoltageV: voltageV * (1 + SPARE),
    flags: flagsOf(tightest.limit, margin),
  };
}

const currentByVoltage = ({ spareV, resistance }: { spareV: number; resistance: number }): number => {
  if (spareV < 0) return 0;
  return resistance === 0 ? Infinity : spareV / resistance;
};

/** The positive root of I (V + I R) = P, in the form that stays exact for small R. */
const currentByPower = ({
  powerW,
  cellV,
  resistance,
}: {
  powerW: number;
  cellV: number;
  resistance: number;
}): number =>
  powerW === Infinity ? Infinity : (2 * powerW) / (cellV + Math.sqrt(cellV ** 2 + 4 * resistance * powerW));

function flagsOf(limit: SupplyLimit, margin: number): string[] {
  if (margin < 0) return [`the supply does not carry the load: too little ${limit}`];
  if (margin < SPARE) return [`less than a fifth of ${limit} to spare`];
  return [];
}

function checkSupply(supply: PowerSupply) {
  const optional = (key: 'maxPowerKw' | 'efficiency' | 'powerFactor', max: number): number | null => {
    const value = supply[key];
    return value === null || value === undefined
      ? null
      : checkNumber(`supply.${key}`, value, { above: 0, max });
  };
  return {
    maxCurrentA: checkNumber('supply.maxCurrentA', supply.maxCurrentA, { above: 0 }),
    maxVoltageV: checkNumber('supply.maxVoltageV', supply.maxVoltageV, { above: 0 }),
    maxPowerKw: optional('maxPowerKw', 1e6),
    efficiency: optional('efficiency', 1),
    powerFactor: optional('powerFactor', 1),
  };
}
