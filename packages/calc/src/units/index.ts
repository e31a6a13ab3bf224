export { convert } from './convert.ts';
export { type Displayed, displayUnit, fromDisplay, toDisplay } from './display.ts';
export {
  QUANTITIES,
  QUANTITY_NAMES,
  type Quantity,
  type QuantityInfo,
  type SystemOfUnits,
} from './quantities.ts';
export { type Dimension, type Unit, UNIT_NAMES, type UnitInfo, UNITS } from './units.ts';
