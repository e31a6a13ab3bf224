import { filmColour } from '../../src/optics/film-colour.ts';
import type { FilmGrowth } from '../../src/optics/growth/growth.ts';
import { nominalGrowth } from '../../src/optics/growth/nominal-growth.ts';
import { thicknessFromVoltage } from '../../src/optics/growth/thickness-from-voltage.ts';

export const regime = { alloy: 'grade 2', preparation: 'polished', bath: 'TSP', temperatureC: 22, holdS: 30 };
/** What is published for titanium, as if measured from 10 to 100 V. */
export const growth: FilmGrowth = {
  ...nominalGrowth({ system: 'titanium' }),
  regime,
  residualDeltaE: 0.5,
  lowestVoltageV: 10,
  highestVoltageV: 100,
};
export const labAt = (voltageV: number, law = growth) =>
  filmColour({ system: law.system, thicknessNm: thicknessFromVoltage({ growth: law, voltageV }).thicknessNm })
    .lab;
export const couponsAt = (...volts: number[]) => volts.map((voltageV) => ({ voltageV, lab: labAt(voltageV) }));
