import { density } from '@huelot/calc';

/** What is in the tank, in kg: the truth that no burette shows. */
export interface TankContents {
  waterKg: number;
  kohKg: number;
  carbonateKg: number;
}

const KOH = 56.106;
const K2CO3 = 138.205;
const WATER = 18.015;

/** The tank: 400 L in 1.0 m by 0.6 m, open for the twelve hours of a working day at 60 °C. */
const SURFACE_M2 = 0.6;
const OPEN_S_PER_DAY = 12 * 3600;
/**
 * Carbon dioxide goes into strong caustic as fast as still air brings it: N = k c, with k = 3 mm/s over an open tank and
 * c = 0.0175 mol/m3 (420 ppm at 20 °C). Two-film theory with all of the resistance in the gas (Whitman 1923); k from
 * memory. One CO2 turns two KOH into one K2CO3 and one water.
 */
const CARBON_DIOXIDE_MOL_PER_DAY = 0.003 * 0.0175 * SURFACE_M2 * OPEN_S_PER_DAY;
/** Water that leaves 50 wt% KOH at 60 °C into a room at 20 °C, by Carrier's equation with the solution's water activity. */
const EVAPORATION_KG_PER_DAY = ((0.387 * OPEN_S_PER_DAY) / 3600) * SURFACE_M2;
/** Liquor on the pieces: 0.2 L/m2 (a plain shape, well drained) of 8 m2 a day. */
const DRAG_OUT_L_PER_DAY = 0.2 * 8;

export const freshTank = ({
  carbonateGPerL,
  massFraction,
}: {
  massFraction: number;
  carbonateGPerL: number;
}): TankContents => {
  const carbonateKg = (carbonateGPerL * 400) / 1000;
  const totalKg = (400 * densityOf({ massFraction })) / 1000;
  const kohKg = totalKg * massFraction;
  return { kohKg, carbonateKg, waterKg: totalKg - kohKg - carbonateKg };
};

const densityOf = ({ massFraction }: { massFraction: number }) =>
  density({ solute: 'KOH', massFraction, temperatureC: 20 }).kgPerM3;

export const totalKg = ({ waterKg, kohKg, carbonateKg }: TankContents) => waterKg + kohKg + carbonateKg;
export const massFractionOf = (tank: TankContents) => tank.kohKg / totalKg(tank);
export const volumeOf = (tank: TankContents) =>
  (1000 * totalKg(tank)) / densityOf({ massFraction: massFractionOf(tank) });
export const carbonateGPerLOf = (tank: TankContents) => (1000 * tank.carbonateKg) / volumeOf(tank);

/** One working day: liquor carried out, carbon dioxide taken up, water lost and filled up to the mark again. */
export function dayOfWork(tank: TankContents): TankContents {
  const carried = takeOut(tank, (DRAG_OUT_L_PER_DAY * totalKg(tank)) / volumeOf(tank));
  const dried = {
    kohKg: carried.kohKg - (2 * CARBON_DIOXIDE_MOL_PER_DAY * KOH) / 1000,
    carbonateKg: carried.carbonateKg + (CARBON_DIOXIDE_MOL_PER_DAY * K2CO3) / 1000,
    waterKg: carried.waterKg + (CARBON_DIOXIDE_MOL_PER_DAY * WATER) / 1000 - EVAPORATION_KG_PER_DAY,
  };
  return { ...dried, waterKg: dried.waterKg + Math.max(0, 400 - volumeOf(dried)) };
}

/** So many kg of the liquor as it is. */
export function takeOut(tank: TankContents, kg: number): TankContents {
  const left = 1 - kg / totalKg(tank);
  return {
    waterKg: tank.waterKg * left,
    kohKg: tank.kohKg * left,
    carbonateKg: tank.carbonateKg * left,
  };
}

/**
 * What a burette of 0.5 mol/L acid shows for `sampleG` of the bath: phenolphthalein turns when the hydroxide and the
 * first half of the carbonate are gone, the second indicator after the other half. With the noise of a class A burette
 * read by a person, 0.03 mL.
 */
export function twoEndPoints(tank: TankContents, options: { sampleG: number; noise: () => number }) {
  const kohMol = (options.sampleG * massFractionOf(tank)) / KOH;
  const carbonateMol = (options.sampleG * (tank.carbonateKg / totalKg(tank))) / K2CO3;
  const mlOf = (equivalents: number) => (1000 * equivalents) / 0.5 + 0.03 * options.noise();
  const firstEndPointMl = mlOf(kohMol + carbonateMol);
  return { firstEndPointMl, secondEndPointMl: Math.max(firstEndPointMl, mlOf(kohMol + 2 * carbonateMol)) };
}
