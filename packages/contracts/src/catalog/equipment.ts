import { z } from 'zod';
import { Id } from '../kernel/scalars.ts';

/** What is painted on the equipment: `T4`, `PS-2`. */
export const EquipmentCode = z
  .string()
  .trim()
  .regex(/^[\p{L}\p{N}][\p{L}\p{N} ._/-]{0,19}$/u, 'must be 1 to 20 letters, digits, dots, dashes or spaces');
/** How other records name a tank, a power supply or a rack. */
export const EquipmentRef = z.object({ id: Id, code: z.string(), name: z.string() });
