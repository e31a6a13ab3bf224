import type { Measured } from './in-browser.ts';
import { filmModel, nominalGrowth, thicknessFromVoltage, titaniumSystem } from '../src/index.ts';

const VOLTAGES = 400;
const FRAMES = 240;

const slider = document.createElement('input');
Object.assign(slider, { type: 'range', min: '0', max: '60', step: '0.1', value: '0' });
const strip = document.createElement('canvas');
Object.assign(strip, { width: VOLTAGES, height: 48 });
document.body.append(slider, strip);
const pen = strip.getContext('2d');
if (!pen) throw new Error('this browser draws nothing');

const growth = nominalGrowth({ system: 'titanium' });
const thicknesses = Array.from(
  { length: VOLTAGES },
  (_, i) => thicknessFromVoltage({ growth, voltageV: (110 * i) / VOLTAGES }).thicknessNm,
);

/** The whole strip anew for the angle under the slider: nothing of the picture before can be used again. */
slider.addEventListener('input', () => {
  const model = filmModel({ ...titaniumSystem, angleDeg: Number(slider.value) });
  for (const [x, thicknessNm] of thicknesses.entries()) {
    pen.fillStyle = model.colourAt(thicknessNm).srgb.hex;
    pen.fillRect(x, 0, 1, strip.height);
  }
});

const frame = () => new Promise<number>((resolve) => requestAnimationFrame(resolve));

/** Moves the slider once a frame; answers when each frame began and what its strip took, in milliseconds. */
export async function measure(): Promise<Measured> {
  const beganMs: number[] = [];
  const workMs: number[] = [];
  for (let at = 0; at < FRAMES; at += 1) {
    beganMs.push(await frame());
    const before = performance.now();
    slider.value = String((at % 600) / 10);
    slider.dispatchEvent(new Event('input'));
    workMs.push(performance.now() - before);
  }
  return { beganMs, workMs };
}

Object.assign(globalThis, { measure });
