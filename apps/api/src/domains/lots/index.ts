export { lineChanged, readWhole as readLotWhole } from './lots.ts';
export { changeLot, lockLot, readLot } from './queries.ts';
