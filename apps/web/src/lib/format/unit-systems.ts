/** What the systems of units on papers are called. */
export const unitNames = { metric: 'Metric', us: 'US customary' } as const;

/** To choose one, with what it means in figures. */
export const unitChoices = [
  { value: 'metric', label: `${unitNames.metric}: mm, dm², °C` },
  { value: 'us', label: `${unitNames.us}: in, ft², °F` },
] as const;
