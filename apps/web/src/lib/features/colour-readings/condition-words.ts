import { measuringGeometryNames, type NewColourReading } from '@huelot/contracts';

/**
 * What a colour was measured under.
 *
 * @example
 * conditionWords({ geometry: '45-0', illuminant: 'D65', observerDeg: 2 }) // 'D65, 2°, 45°/0°'
 */
export const conditionWords = ({
  geometry,
  illuminant,
  observerDeg,
}: NonNullable<NewColourReading['conditions']>): string =>
  `${illuminant}, ${observerDeg}°, ${measuringGeometryNames[geometry]}`;
