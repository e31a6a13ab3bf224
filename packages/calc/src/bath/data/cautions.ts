/**
 * What the trade says to mind when a bath is made up or corrected. Producers' advice for caustic (P in part, the
 * order of mixing common practice), common practice for the rest. The safety data sheet, the local code and
 * trained people decide.
 */
export const additionCautions = {
  'caustic-into-water':
    'Add caustic slowly to the stirred bath; never pour water onto solid caustic: it can erupt.',
  'water-into-strong':
    'Let water into a strong bath slowly, with stirring, and only well below boiling: it heats where it meets and can spatter.',
  'acid-into-water': 'Add acid slowly to the stirred bath, never pour water onto concentrated acid: it can boil and spatter.',
  'protect-yourself':
    'Face shield, gloves and apron; eyewash and shower within reach. Burns: water at once, for a long time.',
  'heat-rise': 'The heat of mixing warms the bath: add in portions, stir, and let it cool in between.',
  'near-boiling': 'Added at once, the bath would come near its boiling point: cool it and stage the addition.',
  'caustic-and-metals':
    'Keep aluminium, zinc, tin, copper alloys, tantalum and niobium away from caustic: it dissolves them, some with hydrogen.',
  'current-off': 'Current and heater off, work out of the tank, before anything is decanted or added.',
} as const;

export type AdditionCaution = keyof typeof additionCautions;
