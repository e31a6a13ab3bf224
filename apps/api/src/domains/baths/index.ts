export { openBath } from './open-bath.ts';
export { addHold, readHoldOfAddition, readHolds, readOpenHolds, toHold } from './hold-queries.ts';
export { releaseWithdrawn } from './holds.ts';
export { type BathRow, lockBath, readBath, toBath, touchBath } from './queries.ts';
export { setBathSetup } from './setup.ts';
export {
  addRequest,
  closeAnswered,
  readOpenRequests,
  readSetupRevision,
  readSetupsOf,
  type StoredSetup,
} from './setup-queries.ts';
export { type BathStanding, standingOf, statusOfTanks } from './status.ts';
export { isJudged, readUse, resultColumns, type ResultRow, toResult } from './status-queries.ts';
