export { type AdditionDoubt, additionDoubts, levelAfter, type LevelMove } from './addition-doubts.ts';
export { additionSize, analysesAgree, secondAnalysis } from './addition-size.ts';
export { impossibleAmount } from './impossible-amount.ts';
export { type ChemicalSide, chemicalSide, methodFit } from './method-fit.ts';
export { portionGate, type ReleaseDoubt, releaseDoubts } from './release-doubts.ts';
export { type ResultJump, resultJump } from './result-jump.ts';
export {
  type BathOnHand,
  type MixingDanger,
  mixingDangers,
  type StockOnHand,
  waterDangers,
} from './stock-fit.ts';
export { type ResultBackground, type ResultDoubt, resultDoubts, resultQuestion } from './result-doubts.ts';
export { shortTime, type ShortTime, type StepTime } from './short-time.ts';
