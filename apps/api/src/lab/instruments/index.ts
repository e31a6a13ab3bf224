export { readInstrument, readInstruments, toInstrument } from './queries.ts';
export { addInstrument } from './instruments.ts';
export { recordCalibration } from './calibrations.ts';
export { setPlaces } from './places.ts';
export { readPlaced } from './place-queries.ts';
export { nameInstruments, type NamedInstrument } from './readings.ts';
export { usableInstrument } from './usable.ts';
