import { z } from 'zod';
import { Id, Line } from '../kernel/scalars.ts';
import { AgreedColour } from './colour-standards.ts';
import { BaseMetal } from './base-metals.ts';

/** Where the colour of a part is read: at the final check, at the tank after the colour step, or at both. */
export const ColourReadAt = z.enum(['check', 'tank', 'both']);
export type ColourReadAt = z.output<typeof ColourReadAt>;

/** A place on a part with a surface or a colour of its own, as it is typed. Null: as the rest of the part. */
export const NewPartZone = z.strictObject({
  name: Line(60),
  materialId: Id.nullable(),
  colourStandardId: Id.nullable(),
});
export type NewPartZone = z.output<typeof NewPartZone>;

/** The zones of a part, each named once. */
export const NewPartZones = z
  .array(NewPartZone)
  .max(10)
  .superRefine((zones, context) => {
    zones.forEach(({ name, materialId, colourStandardId }, index) => {
      const fault = (field: string, message: string) =>
        context.addIssue({ code: 'custom', path: [index, field], message });
      if (zones.findIndex((other) => sameZone(other.name, name)) < index)
        fault('name', 'names a zone that is there already');
      if (materialId === null && colourStandardId === null)
        fault('colourStandardId', 'or the material must differ from the rest of the part');
    });
  });

/** A zone as records show it; what is issued keeps the revision of the standard that was in force. */
export const PartZone = z.object({
  name: z.string(),
  /** Null: that of the part. */
  material: z.object({ id: Id, name: z.string(), condition: z.string(), baseMetal: BaseMetal }).nullable(),
  /** Null: that of the part. */
  agreedColour: AgreedColour.nullable(),
});
export type PartZone = z.output<typeof PartZone>;

/**
 * Whether two names are of one zone.
 *
 * @example
 * sameZone('Edge', ' edge') // true
 */
export const sameZone = (one: string, other: string): boolean =>
  one.trim().toLowerCase() === other.trim().toLowerCase();
