export { lineChanged, readWhole as readLotWhole, placeLotHold, releaseLotHold } from './lots.ts';
export { changeLot, lockLot, readLot } from './queries.ts';
export { planLine } from './plan.ts';
export { readLineFacts } from './plan-queries.ts';
export { releaseLots } from './release.ts';
