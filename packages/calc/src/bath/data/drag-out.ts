/**
 * Liquid that clings to work after draining, mL per m2 of wetted surface. The table usually credited to
 * electroplating handbooks and EPA guides of the 1970s and 80s; written from memory, no copy found. Evidence M:
 * measure your own.
 */
export const dragOutFilms = {
  vertical: { 'well drained': 16.3, 'poorly drained': 81.5, 'very poorly drained': 163 },
  horizontal: { 'well drained': 32.6, 'very poorly drained': 407.5 },
  'cup-shaped': { 'well drained': 326, 'very poorly drained': 977.9 },
} as const;
