import type { MethodSettings, TitrationKind } from '@huelot/contracts';
import type { TypedReadings } from './typed-readings.ts';

export type TypedTitration = Extract<TypedReadings, { kind: TitrationKind }>;

export interface ReadingColumn {
  key: string;
  label: string;
}

const to = (indicator: string | undefined, otherwise: string) => (indicator ? `to ${indicator}` : otherwise);

/** What is read off the burette for one flask, in the order it is read. */
export function readingColumns(
  readings: TypedTitration,
  { indicators }: Pick<MethodSettings, 'indicators'>,
): ReadingColumn[] {
  const [first, second] = indicators;
  switch (readings.kind) {
    case 'caustic-barium-chloride':
      return [
        { key: 'totalMl', label: `Total, ${to(first, 'without barium chloride')}` },
        { key: 'hydroxideMl', label: `With barium chloride, ${to(second, 'the first colour change')}` },
      ];
    case 'sulfuric-free-acid':
      return [{ key: 'endPointMl', label: `End point, ${to(first, 'the first lasting colour')}` }];
    case 'sulfuric-aluminium':
      return readings.procedure === 'fluoride'
        ? [
            { key: 'totalMl', label: 'A, without fluoride' },
            { key: 'acidMl', label: 'B, with fluoride' },
          ]
        : [
            { key: 'acidMl', label: `B, ${to(first, 'the first colour change')}` },
            { key: 'totalMl', label: `A, ${to(second, 'the second colour change')}, from zero` },
          ];
    default: {
      const counted = readings.secondReading === 'from-zero' ? 'from zero' : 'from the first';
      return [
        { key: 'firstEndPointMl', label: `First end point, ${to(first, 'the first colour change')}` },
        {
          key: 'secondEndPointMl',
          label: `Second, ${to(second, 'the second colour change')}, ${counted}`,
        },
      ];
    }
  }
}
