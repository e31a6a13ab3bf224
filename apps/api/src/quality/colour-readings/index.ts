export { instrumentOf } from './instrument.ts';
export { writeReadings } from './record.ts';
export { checkColourAtTank, checkColourRead, viewLotColour } from './view.ts';
