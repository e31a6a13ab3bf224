export {
  lockEquipment,
  readRack,
  readRacks,
  readSupplies,
  readSupply,
  readTank,
  readTanks,
} from './queries.ts';
export { toRack } from './racks.ts';
export { toSupply } from './power-supplies.ts';
