import { evaporationRate, openSurfaceLoss, type Solute } from '../../src/index.ts';
import { readCsv } from '../../reference/csv.ts';
import { drawChart, type Point } from './chart.ts';
import { steps } from './steps.ts';
import { series } from './svg.ts';

const table = readCsv('heat/open_tank_losses.csv');

/** Air of the published table: 60 °F, still; humidity is not stated there, half is assumed. */
const room = { temperatureC: 15.56, relativeHumidity: 0.5 };

const kilowatts = (points: readonly Point[]): Point[] => points.map(([x, watts]) => [x, watts / 1000]);

const published = (column: string): Point[] =>
  kilowatts(table.map((row): Point => [Number(row['liquid_C']), Number(row[column])]));

function evaporation(solute: Solute, massFraction: number): Point[] {
  return kilowatts(
    steps(25, 99, 74).map((temperatureC): Point => [
      temperatureC,
      evaporationRate({ solute, massFraction, temperatureC, room }).wattsPerM2,
    ]),
  );
}

/** Heat that leaves an open bath by evaporation, and by radiation and convection, against the table of water tanks. */
export function evaporationFromOpenTank(): string {
  const dry = steps(25, 99, 74).map((temperatureC): Point => {
    const loss = openSurfaceLoss({ areaM2: 1, solute: 'KOH', massFraction: 0.5, temperatureC, room });
    return [temperatureC, loss.radiationW + loss.convectionW];
  });
  return drawChart({
    title: 'Heat lost from an open bath',
    subtitle:
      'Lines: evaporationRate() and openSurfaceLoss(), room 15.6 °C. Marks: published table of open water tanks.',
    description:
      'Evaporation from water follows the published table from 50 °C up; 50 per cent potassium hydroxide evaporates about an eighth as much.',
    x: { label: 'liquid, °C', domain: [25, 100] },
    y: { label: 'heat flow, kW/m²', domain: [0, 11] },
    marks: [
      { kind: 'line', points: evaporation('KOH', 0), colour: series(0), label: 'evaporation: water' },
      { kind: 'line', points: evaporation('NaOH', 0.3), colour: series(2), label: '30 % NaOH' },
      { kind: 'line', points: evaporation('KOH', 0.5), colour: series(1), label: '50 % KOH' },
      {
        kind: 'line',
        points: kilowatts(dry),
        colour: series(5),
        dashed: true,
        label: 'radiation, convection',
      },
      { kind: 'dots', points: published('evap_W_m2'), colour: series(0) },
      { kind: 'dots', points: published('rad_conv_W_m2'), colour: series(5), shape: 'square' },
    ],
    labelWidth: 165,
  });
}
