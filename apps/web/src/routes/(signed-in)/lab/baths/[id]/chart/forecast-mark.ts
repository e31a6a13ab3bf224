/** The line of a forecast as it is drawn: on the shop's clock and in the unit shown. */
export interface ForecastLine {
  from: { clock: number; value: number };
  to: { clock: number; value: number };
  /** Where the band of the line meets the limit; without an end when the drift may as well be none. */
  interval: { level: number; earliest: number; latest: number | null } | null;
  /** The limit lies above the line: words stand clear of it there. */
  above: boolean;
  words: string;
}
