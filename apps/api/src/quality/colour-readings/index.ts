export { writeReadings } from './record.ts';
export { checkColourRead, viewLotColour } from './view.ts';
