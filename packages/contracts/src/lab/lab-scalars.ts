import { z } from 'zod';

/**
 * What is found in a bath: `KOH`, `K2CO3`, `H2SO4`, `Al`, `Fe`, `Na3PO4`, `pH`, `conductivity`, `turbidity`,
 * `appearance`, or a name of the shop's own.
 */
export const ComponentKey = z
  .string()
  .trim()
  .regex(/^[\p{L}\p{N}][\p{L}\p{N}._+-]{0,39}$/u, 'must be 1 to 40 letters, digits, dots or dashes');

/** `judgement` is 1 for good and 0 for not good. Amounts in a litre are those at a stated temperature. */
export const ComponentUnit = z.enum([
  'massFraction',
  'gramsPerLitre',
  'molPerLitre',
  'pH',
  'siemensPerM',
  'ntu',
  'judgement',
]);
export type ComponentUnit = z.output<typeof ComponentUnit>;

const Limit = z.number().min(-1e6).max(1e6).nullable();
/** Aim, working range, and the range outside which work stops; any may be absent. */
export const Limits = z.object({ target: Limit, low: Limit, high: Limit, stopLow: Limit, stopHigh: Limit });
export type Limits = z.output<typeof Limits>;

/** How one result stands in the limits that were in force. */
export const ResultState = z.enum(['in-range', 'watch', 'stop', 'no-limits']);
export type ResultState = z.output<typeof ResultState>;

/** Of a bath, a sample or the liquor added. */
export const TemperatureC = z.number().min(-20).max(150);
