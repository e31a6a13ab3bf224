import type { Quantity } from '@huelot/calc';

/** What a stored field is called, and what its number measures; null where it is a plain number. */
export interface FieldLabel {
  label: string;
  quantity: Quantity | null;
}

/** The unit that ends a field's name, the quantity it is shown as, and what of the ending belongs to the name. */
const units: readonly [ending: string, quantity: Quantity, name: string][] = [
  ['CurrentDensityAPerM2', 'currentDensity', 'CurrentDensity'],
  ['DensityKgPerM3', 'metalDensity', 'Density'],
  ['GramsPerLitre', 'concentration', 'Concentration'],
  ['MassFraction', 'massFraction', 'MassFraction'],
  ['TemperatureC', 'temperature', 'Temperature'],
  ['VoltageV', 'voltage', 'Voltage'],
  ['CurrentA', 'current', 'Current'],
  ['VolumeL', 'volume', 'Volume'],
  ['VolumeMm3', 'partVolume', 'Volume'],
  ['Share', 'share', 'Share'],
  ['Mm2', 'area', ''],
  ['Mm', 'equipmentLength', ''],
  ['Kwh', 'energy', ''],
  ['Kw', 'power', ''],
  ['Kg', 'mass', ''],
  ['S', 'duration', ''],
];

/** Names that splitting into words would spoil. */
const exceptions: Readonly<Record<string, string>> = {
  toleranceDeltaE: 'tolerance ΔE00',
  deltaE2000: 'ΔE00',
  labL: 'L*',
  labA: 'a*',
  labB: 'b*',
  colourL: 'L*',
  colourA: 'a*',
  colourB: 'b*',
  pH: 'pH',
  sdsFileId: 'safety data sheet',
  eqPerLitre: 'strength in eq/L',
};

/**
 * The name of a stored field as people say it, with the quantity that its unit stands for.
 *
 * @example
 * fieldLabel('maximumTemperatureC') // { label: 'maximum temperature', quantity: 'temperature' }
 */
export function fieldLabel(field: string): FieldLabel {
  const exception = exceptions[field];
  if (exception !== undefined) return { label: exception, quantity: null };
  const name = field.charAt(0).toUpperCase() + field.slice(1);
  for (const [ending, quantity, kept] of units) {
    const stem = name.slice(0, -ending.length);
    // An ending that is a unit follows a word, not another capital.
    if (name.endsWith(ending) && !/[A-Z]$/.test(stem)) return { label: words(stem + kept), quantity };
  }
  return { label: words(field.replace(/Ids?$/, '')), quantity: null };
}

/** `plannedStart` as `planned start`; what is in words already stays as it is. */
const words = (name: string): string =>
  name.includes(' ') ? name : name.replace(/([a-z0-9])([A-Z])/g, '$1 $2').toLowerCase();
