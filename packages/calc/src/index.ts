/**
 * The public names of the calculation package, area by area. Each area lists its own in its `index.ts`.
 */
export { CalcError, type CalcErrorCode } from './errors.ts';
export { type LinearFit, linearFit, type NonlinearFit, nonlinearFit, studentQuantile } from './numeric/index.ts';
export {
  convert,
  type Dimension,
  type Displayed,
  displayUnit,
  fromDisplay,
  QUANTITIES,
  QUANTITY_NAMES,
  type Quantity,
  type QuantityInfo,
  type SystemOfUnits,
  toDisplay,
  type Unit,
  UNIT_NAMES,
  type UnitInfo,
  UNITS,
} from './units/index.ts';
