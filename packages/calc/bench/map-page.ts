import { type MapTrial, trialMap } from '../src/index.ts';
import { seeded } from '../reference/optics/seeded.ts';
import type { Measured } from './in-browser.ts';

const [COLUMNS, ROWS] = [48, 32];
const TRIALS = 60;
const REDRAWS = 120;

const random = seeded(60);
const trials = Array.from({ length: TRIALS }, (): MapTrial => {
  const [temperatureC, voltageV] = [random.uniform(30, 95), random.uniform(1.2, 2.8)];
  const outcome = temperatureC < 42 ? 'none' : temperatureC > 75 ? 'dark' : 'interference';
  return {
    temperatureC,
    voltageV,
    timeS: 300,
    strength: 50,
    outcome,
    lab: { L: temperatureC, a: 5, b: -20 },
  };
});

const ground = document.createElement('canvas');
Object.assign(ground, { width: COLUMNS, height: ROWS });
document.body.append(ground);
const pen = ground.getContext('2d');
if (!pen) throw new Error('this browser draws nothing');

/** The whole map anew for another time: the model of the trials, every cell of it, and the picture. */
function redraw(timeS: number): void {
  const map = trialMap({ trials, target: 50 });
  for (let index = 0; index < COLUMNS * ROWS; index += 1) {
    const [column, row] = [index % COLUMNS, Math.floor(index / COLUMNS)];
    const { lab, probabilities } = map.at({
      temperatureC: 95 - (65 * (row + 0.5)) / ROWS,
      voltageV: 1.2 + (1.6 * (column + 0.5)) / COLUMNS,
      timeS,
      strength: 50,
    });
    const light = lab?.L ?? 100 * Math.max(...Object.values(probabilities));
    pen?.fillRect(column, row, light > 50 ? 1 : 0.5, 1);
  }
}

const frame = () => new Promise<number>((resolve) => requestAnimationFrame(resolve));

/** Redraws the map once a frame, the time moved each time. */
export async function measure(): Promise<Measured> {
  const [beganMs, workMs]: [number[], number[]] = [[], []];
  for (let index = 0; index < REDRAWS; index += 1) {
    beganMs.push(await frame());
    const before = performance.now();
    redraw(250 + index);
    workMs.push(performance.now() - before);
  }
  return { beganMs, workMs };
}

Object.assign(globalThis, { measure });
