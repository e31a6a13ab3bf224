import { z } from 'zod';
import { Lab } from '../kernel/scalars.ts';

/** The target of an agreed colour by its name, for a swatch beside a line. */
export const NamedColour = z.object({ name: z.string(), lab: Lab });
export type NamedColour = z.output<typeof NamedColour>;
