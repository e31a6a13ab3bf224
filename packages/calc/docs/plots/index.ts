import { conductivityOfOthers, conductivityOfPotash } from './conductivity.ts';
import { densityDeviation, densityOfAcids, densityOfAlkalis, densityOfHotCaustic } from './density.ts';
import { evaporationFromOpenTank } from './evaporation.ts';
import { filmColourStrips } from './film-colours.ts';
import { publishedTitanium } from './published-titanium.ts';
import { fittedSeries } from './series.ts';
import { processMapOfSteel } from './process-map.ts';
import { operatingCharacteristic } from './sampling.ts';

/** Every picture of the documentation by its file name. */
export const PLOTS: ReadonlyMap<string, () => string> = new Map([
  ['density-alkalis.svg', densityOfAlkalis],
  ['density-acids.svg', densityOfAcids],
  ['density-hot-caustic.svg', densityOfHotCaustic],
  ['density-deviation.svg', densityDeviation],
  ['conductivity-koh.svg', conductivityOfPotash],
  ['conductivity-others.svg', conductivityOfOthers],
  ['evaporation.svg', evaporationFromOpenTank],
  ['film-colours.svg', filmColourStrips],
  ['fitted-series.svg', fittedSeries],
  ['published-titanium.svg', publishedTitanium],
  ['process-map.svg', processMapOfSteel],
  ['operating-characteristic.svg', operatingCharacteristic],
]);
