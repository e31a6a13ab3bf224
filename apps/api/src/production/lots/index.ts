export { lineChanged, readWhole as readLotWhole, placeLotHold, releaseLotHold } from './lots.ts';
export { changeLot, lockLot, readLot } from './queries.ts';
export { planLine } from './plan.ts';
export { readLineFacts } from './plan-queries.ts';
export { readLotEvidence } from './lot-evidence.ts';
export { releaseLoads, releaseLots } from './release.ts';
