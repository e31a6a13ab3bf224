export type { Coupon } from './coupon.ts';
export {
  fitFilmGrowth,
  type FittedCoupon,
  type GrowthAlternative,
  type GrowthFit,
  type GrowthVerdict,
  type Interval,
} from './fit-film-growth.ts';
export type { FilmGrowth, GrowthRegime } from './growth.ts';
export {
  type ColourMatch,
  type MatchCandidate,
  matchColour,
  type NearCoupon,
  type TwinColour,
} from './match-colour.ts';
export { type DriftPoint, type LawDrift, lawDrift } from './law-drift.ts';
export { type NextCoupon, nextCoupon, type NextCouponWhy } from './next-coupon.ts';
export { nominalGrowth } from './nominal-growth.ts';
export { suspectCoupon, type SuspectCoupon } from './suspect-coupon.ts';
export { type FilmThickness, thicknessFromVoltage } from './thickness-from-voltage.ts';
export { colourAtVoltage, type StripColour, voltageStrip } from './voltage-strip.ts';
export { type PassingStretch, type VoltageWindow, voltageWindow } from './voltage-window.ts';
export { windowLimits } from './window-limits.ts';
