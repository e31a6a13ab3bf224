import type { Me } from '@huelot/contracts';

type Theme = Me['person']['theme'];
const KEY = 'huelot.theme';

/** Shows the chosen theme at once, and remembers it on this device for the first paint of the next visit. */
export function showTheme(theme: Theme) {
  const { dataset } = document.documentElement;
  if (theme === 'system') delete dataset['theme'];
  else dataset['theme'] = theme;
  try {
    localStorage.setItem(KEY, theme);
  } catch {
    // Storage may be switched off; the theme then comes with the person after the first paint.
  }
}
