export type {
  Plan,
  PlanId,
  PlanLot,
  PlannedLot,
  PlannedStep,
  PlanStep,
  PlanSupply,
  PlanTank,
  Shop,
  Span,
} from './plan.ts';
export { scheduleLots } from './schedule-lots.ts';
