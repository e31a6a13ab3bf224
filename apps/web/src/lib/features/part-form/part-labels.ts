import type { ColourReadAt, Geometry, LengthUnit, PartFileKind } from '@huelot/contracts';
import type { z } from 'zod';

/** How an area was found, in a word. */
export const geometryWords: Record<Geometry['kind'], string> = {
  typed: 'typed',
  shapes: 'shapes',
  mesh: 'model file',
};

export const unitWords: Record<LengthUnit, string> = {
  mm: 'millimetre',
  cm: 'centimetre',
  m: 'metre',
  inch: 'inch',
  ft: 'foot',
};

export const fileKindOptions: readonly { value: z.output<typeof PartFileKind>; label: string }[] = [
  { value: 'drawing', label: 'drawing' },
  { value: 'photo', label: 'photo' },
  { value: 'model', label: 'model' },
  { value: 'other', label: 'other' },
];

/** Where the colour of a part is read. */
export const readAtLabels: readonly { value: ColourReadAt; label: string }[] = [
  { value: 'check', label: 'at the final check' },
  { value: 'tank', label: 'at the tank, after the colour step' },
  { value: 'both', label: 'at the tank and again at the final check' },
];
