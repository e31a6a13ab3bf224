import type { Me } from '@huelot/contracts';

type Theme = Me['person']['theme'];
type Density = Me['person']['density'];
const STORAGE_KEY = 'huelot.theme';

/** Shows the chosen theme at once, and remembers it on this device for the first paint of the next visit. */
export function showTheme(theme: Theme) {
  const { dataset } = document.documentElement;
  if (theme === 'system') delete dataset['theme'];
  else dataset['theme'] = theme;
  try {
    localStorage.setItem(STORAGE_KEY, theme);
  } catch {
    // Storage may be switched off; the theme then comes with the person after the first paint.
  }
}

/** How close together the rows of lists stand; the tank's screen is for gloves and ignores it. */
export function showDensity(density: Density) {
  const { dataset } = document.documentElement;
  if (density === 'dense') dataset['density'] = density;
  else delete dataset['density'];
}
