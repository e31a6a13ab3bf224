export type { AdditionCaution } from './addition/cautions.ts';
export { dragOutFilms } from './data/drag-out.ts';
export { molarMass } from './data/molar-masses.ts';
export { bathAfterAdditions, type BathMove } from './addition/after-additions.ts';
export { dissolution, type Dissolution } from './addition/dissolution.ts';
export {
  type AdditionPlan,
  type AdditionRefusal,
  type AdditionAmount,
  planAddition,
} from './addition/plan-addition.ts';
export { type AdditionRequest, type AdditionStock } from './addition/request.ts';
export { saturation } from './addition/saturation.ts';
export { type AdditionStep, type BathState } from './addition/steps.ts';
export { gramsPerLitreFrom, hydrateMassFraction, massFractionFrom, molarityFrom } from './concentration.ts';
export { type Conductivity, conductivity } from './conductivity.ts';
export { type Density, density, mixtureDensity } from './density.ts';
export { dragOut, dragOutFromUse } from './drag-out.ts';
export { type EvaporationTopUp, topUpEvaporation } from './evaporation-top-up.ts';
export { type BathSample, type Forecast, forecast, type LimitForecast } from './forecast.ts';
export { bleedAndFeed, dumpShareForImpurity } from './impurity.ts';
export { counterflowRinse, rinseDilution, stillRinse } from './rinse.ts';
export { type Caustic, type DissolvedSalt, dissolvedSalts, type Solute, solutes } from './solutes.ts';
export {
  type CausticAnalysis,
  titrateCausticBariumChloride,
  titrateCausticTwoEndPoints,
  type TwoEndPointCausticAnalysis,
} from './titration/caustic.ts';
export { type BathComponent } from './titration/flask.ts';
export {
  concentrationFromHydrometer,
  type HydrometerResult,
  type HydrometerScale,
} from './titration/hydrometer.ts';
export {
  type PhosphateAnalysis,
  type PhosphoricAcidAnalysis,
  titratePhosphate,
  titratePhosphoricAcid,
} from './titration/phosphate.ts';
export { type SecondReading } from './titration/readings.ts';
export { type TitrationSample, type TitrationUncertainty } from './titration/sample.ts';
export {
  type SulfuricAcidAnalysis,
  type SulfuricAluminiumAnalysis,
  titrateSulfuricAcid,
  titrateSulfuricAluminium,
} from './titration/sulfuric.ts';
export { normalityFrom, type TitrantReagent } from './titration/titrant.ts';
