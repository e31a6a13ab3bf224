export { correctReadings as correctSignedReading } from './correct.ts';
export { standingCount } from './count-queries.ts';
export { standsNotDone } from './done-queries.ts';
export { checkTanksChosen, issueTraveler } from './issue.ts';
export { loadOf } from './load.ts';
export {
  readCurrentTraveler,
  readRoute,
  readTravelersOfLot,
  setTravelerStatus,
  type RouteStep,
} from './queries.ts';
export { readTankBathStatus, refuseUnfilled, stateWords } from './sign-bath.ts';
export { addHold, readPlace } from './sign-queries.ts';
export { signOff } from './sign.ts';
export { allowUnproved } from './sign-evidence.ts';
