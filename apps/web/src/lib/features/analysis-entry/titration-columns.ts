import type { MethodSettings, TitrationKind } from '@huelot/contracts';
import type { TypedReadings } from './typed-readings.ts';

export type TypedTitration = Extract<TypedReadings, { kind: TitrationKind }>;

export interface ReadingColumn {
  key: string;
  label: string;
}

/** Where the colour changes, once the method says by which indicator. */
const by = (indicator: string | undefined) => (indicator ? `, to ${indicator}` : '');

/** What is read off the burette for one flask, in the order it is read. */
export function readingColumns(
  readings: TypedTitration,
  { indicators }: Pick<MethodSettings, 'indicators'>,
): ReadingColumn[] {
  const [first, second] = indicators;
  switch (readings.kind) {
    case 'caustic-barium-chloride':
      return [
        { key: 'totalMl', label: `Total${by(first)}` },
        { key: 'hydroxideMl', label: `With barium chloride${by(second)}` },
      ];
    case 'sulfuric-free-acid':
      return [{ key: 'endPointMl', label: `End point${by(first)}` }];
    case 'sulfuric-aluminium':
      return readings.procedure === 'fluoride'
        ? [
            { key: 'totalMl', label: 'A, without fluoride' },
            { key: 'acidMl', label: 'B, with fluoride' },
          ]
        : [
            { key: 'acidMl', label: `B${by(first)}` },
            { key: 'totalMl', label: `A${by(second)}, from zero` },
          ];
    default: {
      const counted = readings.secondReading === 'from-zero' ? 'from zero' : 'from the first';
      return [
        { key: 'firstEndPointMl', label: `First end point${by(first)}` },
        {
          key: 'secondEndPointMl',
          label: `Second${by(second)}, ${counted}`,
        },
      ];
    }
  }
}
