// Runs before the first paint, so that a person's choice of theme never flashes the other one.
try {
  const theme = localStorage.getItem('huelot.theme');
  if (theme === 'light' || theme === 'dark') document.documentElement.dataset.theme = theme;
} catch {
  // Storage may be switched off; the system's theme then stands.
}
