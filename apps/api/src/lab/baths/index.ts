export { analysisCounts } from './analysis-count-queries.ts';
export { openBath } from './open-bath.ts';
export { addHold, readHoldOfAddition, readHolds, readOpenHolds, toHold } from './hold-queries.ts';
export { releaseWithdrawn, placeHold, releaseHold } from './holds.ts';
export { type BathRow, lockBath, readBath, toBath, bumpBathVersion } from './queries.ts';
export { setBathSetup } from './setup.ts';
export {
  addRequest,
  closeAnswered,
  readOpenRequests,
  readSetupRevision,
  readSetupsOf,
  type StoredSetup,
} from './setup-queries.ts';
export { type BathStanding, readBathStatuses, statusOfTanks } from './status.ts';
export { isMonitored, readUse, resultColumns, type ResultRow, toResult } from './status-queries.ts';
export { startBath } from './fills.ts';
