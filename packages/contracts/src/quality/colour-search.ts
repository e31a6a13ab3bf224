import { z } from 'zod';
import { ColourGrade, Illuminant, ObserverDeg } from '../catalog/colour-grades.ts';
import { defineQuery } from '../kernel/http.ts';
import { Id, Instant, Lab, PathId } from '../kernel/scalars.ts';
import { ColourVerdict } from './colour-readings.ts';

/** A reading as it stands, with the step that made the colour. */
export const ColourPoint = z
  .object({
    readingId: Id,
    lot: z.object({ id: Id, number: z.string() }),
    part: z.string(),
    material: z.string(),
    recipe: z.string(),
    zone: z.string(),
    place: z.string(),
    grade: ColourGrade,
    readAt: Instant,
    lab: Lab,
    /** From what was agreed; null where nothing in figures was. */
    deltaE: z.number().nullable(),
    dL: z.number().nullable(),
    da: z.number().nullable(),
    db: z.number().nullable(),
    limit: z.number().nullable(),
    verdict: ColourVerdict.nullable(),
    /** The standard had run out when it was read. */
    standardExpired: z.boolean(),
    /** From the colour that was searched for. */
    distance: z.number().nullable(),
    voltageV: z.number().nullable(),
    temperatureC: z.number().nullable(),
    bath: z.object({ id: Id, number: z.string() }).nullable(),
    /** The newest analysis of the bath before the step, of its first component. */
    strength: z.object({ name: z.string(), value: z.number(), unit: z.string() }).nullable(),
  })
  .meta({ id: 'ColourPoint' });
export type ColourPoint = z.output<typeof ColourPoint>;

export const getColourChart = defineQuery({
  name: 'getColourChart',
  tags: ['quality'],
  path: '/recipes/:id/colour-chart',
  access: 'recipes.read',
  summary:
    'The newest 500 readings of lots run by a recipe, oldest first, with bath, temperature and voltage',
  params: { id: PathId },
  reply: z.object({ items: z.array(ColourPoint) }),
});

const Figure = (min: number, max: number) => z.coerce.number().min(min).max(max).optional();
export const searchColours = defineQuery({
  name: 'searchColours',
  tags: ['quality'],
  path: '/trace/colours',
  access: 'trace.read',
  summary: 'Readings near a colour, or by their difference from what was agreed; nearest or newest first',
  query: {
    L: Figure(0, 100),
    a: Figure(-200, 200),
    b: Figure(-200, 200),
    /** dE00 from L, a, b; 2 where not said. */
    within: Figure(0.1, 50),
    /** What L, a, b are under; D65 and 2 degrees where not said. Readings under another light are not near them. */
    illuminant: Illuminant.optional(),
    observerDeg: z.coerce.number().pipe(ObserverDeg).optional(),
    deltaEFrom: Figure(0, 200),
    deltaETo: Figure(0, 200),
    recipeId: PathId.optional(),
  },
  reply: z.object({
    items: z.array(ColourPoint),
    /** There are more than the 200 shown. */
    more: z.boolean(),
  }),
});
