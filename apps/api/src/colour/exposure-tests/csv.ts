import type { ExposureTest, ExposureTestItem } from '@huelot/contracts';
import type { Cell } from '../../http/csv.ts';

interface Table {
  name: string;
  heads: string[];
  rows: Cell[][];
}

/** The list of tests. */
export const testTable = (items: readonly ExposureTestItem[]): Table => ({
  name: 'exposure-tests',
  heads: [
    ...['number', 'name', 'kind', 'medium', 'standard', 'materials', 'specimens', 'state', 'responsible'],
    ...['startedAt', 'endedAt', 'plannedHours', 'exposedHours', 'missedLooks', 'readingsOutside'],
  ],
  rows: items.map((test) => [
    ...[test.number, test.name, test.kind, test.medium, test.standard, test.materials.join('; ')],
    ...[test.specimens, test.state, test.responsible.name, test.startedAt, test.endedAt],
    ...[test.plannedHours, test.exposedHours, test.missedLooks, test.readingsOutside],
  ]),
});

/** What was seen of each specimen, day by day; a look that was missed has a row of its own. */
export const observationTable = ({ number, specimens }: ExposureTest): Table => ({
  name: `${number}-observations`,
  heads: [
    ...['specimen', 'material', 'finish', 'film', 'protective', 'day', 'seenAt', 'exposedHours', 'verdict'],
    ...['defectAreaPercent', 'rating', 'note', 'seenBy', 'correctedFrom', 'correctionReason', 'photo'],
  ],
  rows: specimens.flatMap((specimen) => {
    const { mark, material, finish, film, protective } = specimen;
    const who = [mark, `${material.name} ${material.condition}`.trim(), finish, film, protective];
    const seen = specimen.observations.map(({ counts, ...one }): Cell[] => [
      ...[...who, one.day, one.seenAt, one.exposedHours, counts.verdict, counts.defectAreaPercent],
      ...[counts.rating, counts.note, one.seenBy, one.corrections.length === 0 ? '' : one.verdict],
      ...[one.corrections.at(-1)?.reason, one.photo?.name],
    ]);
    const missed = specimen.missedDays.map((day): Cell[] => [...who, day, null, null, 'nobody looked']);
    return [...seen, ...missed];
  }),
});
