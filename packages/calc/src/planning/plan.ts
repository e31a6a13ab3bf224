/** A key of the caller's records; it comes back in the plan as it was given. */
export type PlanId = string | number;

/** From the first second to just before the last, in whole seconds since any moment of the caller's choice. */
export interface Span {
  fromS: number;
  untilS: number;
}

export interface PlanTank {
  id: PlanId;
  /** Not to be used then: cleaning, a lot already running. */
  busy?: readonly Span[] | undefined;
}

export interface PlanSupply {
  id: PlanId;
  /** The tanks it is wired to. */
  tankIds: readonly PlanId[];
  busy?: readonly Span[] | undefined;
}

export interface PlanStep {
  /** Tanks that will do, the preferred one first; none for work beside the line. */
  tankIds: readonly PlanId[];
  /** In the tank, exactly. */
  durationS: number;
  /** Hanging above the tank afterwards; the tank is taken until it ends. */
  dripS?: number | undefined;
  /** Supplies strong enough for the load, the preferred one first; left out for a step without current. */
  supplyIds?: readonly PlanId[] | undefined;
  /** How much longer the load may stay where it is when the next tank is not free; 0 when left out. */
  maxWaitS?: number | undefined;
  /** After this step the load may be set down beside the line and go on any time, in another shift too. */
  mayRest?: boolean | undefined;
}

export interface PlanLot {
  id: PlanId;
  /** When it has to be done; null when nothing was promised. */
  dueS?: number | null | undefined;
  /** Not before: parts on the way, bath not ready. */
  releaseS?: number | undefined;
  /** Higher goes first, whatever the dates; 0 when left out. */
  priority?: number | undefined;
  steps: readonly PlanStep[];
}

export interface Shop {
  /** The plan begins here. */
  startS: number;
  /** When people are there, in order. */
  shifts: readonly Span[];
  /** From one place to the next. */
  transferS: number;
  tanks: readonly PlanTank[];
  supplies: readonly PlanSupply[];
  lots: readonly PlanLot[];
}

export interface PlannedStep {
  tankId: PlanId | null;
  supplyId: PlanId | null;
  /** In the tank from here... */
  startS: number;
  /** ...to here, when the current goes off... */
  endS: number;
  /** ...and above it until here, dripping or waiting. */
  leaveS: number;
}

export interface PlannedLot {
  id: PlanId;
  startS: number;
  endS: number;
  dueS: number | null;
  /** Past the due time; 0 when in time or without one. */
  lateS: number;
  steps: PlannedStep[];
}

export interface Plan {
  /** In the order they were planned in. */
  lots: PlannedLot[];
  unplanned: { id: PlanId; reason: string }[];
  /** When the last lot is done; the beginning when there is none. */
  endS: number;
  /** Time each tank is taken by the lots planned, in the order of the tanks. */
  tanks: { id: PlanId; takenS: number }[];
}
