export {
  lockEquipment,
  readRack,
  readRacks,
  readSupplies,
  readSupply,
  readTank,
  readTanks,
  readTankByCode,
  lotsUnderWay,
  updateTank,
  insertTank,
  type TankRow,
} from './queries.ts';
export { toRack } from './racks.ts';
export { toSupply } from './power-supplies.ts';
export { addRack } from './racks.ts';
export { addSupply } from './power-supplies.ts';
