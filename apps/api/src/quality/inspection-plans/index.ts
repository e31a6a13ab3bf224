export { inspect as inspectLot } from './inspect.ts';
export { setPlan as setInspectionPlan } from './plan.ts';
export {
  foundOf,
  missingOf,
  readInspection,
  readInspections,
  readStopped,
  viewInspection as readLotInspection,
} from './lot.ts';
