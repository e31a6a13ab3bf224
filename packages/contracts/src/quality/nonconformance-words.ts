import { z } from 'zod';

/** What is wrong with the pieces: a controlled list, so that the same fault is counted as one. Common practice of the trade, no source. */
export const faultNames = {
  'wrong-colour': 'wrong colour',
  uneven: 'uneven colour',
  burn: 'burn',
  'rack-mark': 'rack mark',
  bare: 'bare spot',
  powdery: 'powdery film',
  smut: 'smut',
  'etch-pit': 'etch pits',
  dimension: 'dimension',
  'mixed-parts': 'mixed parts',
  count: 'wrong count',
} as const;
export const Fault = z.enum(Object.keys(faultNames) as [keyof typeof faultNames]);
export type Fault = keyof typeof faultNames;

export const foundAtNames = {
  receipt: 'at receipt',
  process: 'in process',
  inspection: 'at inspection',
  customer: 'by the customer',
} as const;
export const FoundAt = z.enum(Object.keys(foundAtNames) as [keyof typeof foundAtNames]);
export type FoundAt = keyof typeof foundAtNames;

/** ISO 9001, 8.7.1: correct, return, suspend, accept by concession; scrap and use as is are the trade’s words beside them. */
export const dispositionNames = {
  rework: 'rework',
  concession: 'concession',
  return: 'return to customer',
  scrap: 'scrap',
  'use-as-is': 'use as is',
} as const;
export const Disposition = z.enum(Object.keys(dispositionNames) as [keyof typeof dispositionNames]);
export type Disposition = keyof typeof dispositionNames;

/** Where pieces are when it is decided what becomes of them. */
export const takenFromNames = {
  floor: 'still on the floor',
  rejected: 'rejected',
  accepted: 'accepted, not shipped',
  shipped: 'shipped',
} as const;
export const TakenFrom = z.enum(Object.keys(takenFromNames) as [keyof typeof takenFromNames]);
export type TakenFrom = keyof typeof takenFromNames;

export const costKindNames = {
  labour: 'labour',
  line: 'line time',
  chemistry: 'chemistry',
  scrap: 'scrap value',
  credit: 'credit to the customer',
} as const;
export const CostKind = z.enum(Object.keys(costKindNames) as [keyof typeof costKindNames]);
export type CostKind = keyof typeof costKindNames;

/** What a correction may put right, each by its own name. */
export const correctableNames = {
  piecesAffected: 'pieces affected',
  piecesInspected: 'pieces inspected',
  fault: 'fault',
  place: 'place on the part',
  description: 'description',
  requirement: 'requirement not met',
  measuredValue: 'measured value',
  foundOn: 'date found',
  foundBy: 'found by',
  customerReference: 'number at the customer',
} as const;
export const Correctable = z.enum(Object.keys(correctableNames) as [keyof typeof correctableNames]);
export type Correctable = keyof typeof correctableNames;

export const NonconformanceState = z.enum(['open', 'closed']);
export type NonconformanceState = z.output<typeof NonconformanceState>;
