import { stepQuantities, type exportTrace, type StepQuantity, type TraceHit } from '@huelot/contracts';
import type { z } from 'zod';
import type { Db } from '../../db/client.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import type { Cell } from '../../http/csv.ts';
import { findSignOffs } from './find.ts';
import type { Range } from './reading-queries.ts';
import { readHits, readTimeZone } from './search-queries.ts';

type Filters = z.output<typeof exportTrace.query>;

/** `voltageV:28:32,temperatureC:20:` as ranges. */
export const rangesOf = (settings: string | undefined): Range[] =>
  (settings ?? '')
    .split(',')
    .filter((one) => one !== '')
    .map((one) => {
      const [quantity = '', min = '', max = ''] = one.split(':');
      return { quantity, min: min === '' ? null : Number(min), max: max === '' ? null : Number(max) };
    });

/** A page of signed steps that match, newest first. */
export async function search(
  db: Db,
  query: Filters & { after?: string | undefined; limit?: number | undefined },
) {
  const { settings, after, limit = 50, ...filters } = query;
  const cursor = decodeCursor(after, ['string', 'number']);
  const ids = await findSignOffs(db.execute, {
    ...filters,
    limit,
    ranges: rangesOf(settings),
    timeZone: await readTimeZone(db.execute),
    after: cursor === null ? null : { doneAt: String(cursor[0]), id: Number(cursor[1]) },
  });
  const rows = await readHits(db.execute, ids);
  return toPage({ rows, limit, cursorOf: (row) => [row.doneAt, row.signOffId] });
}

const quantities = Object.keys(stepQuantities) as StepQuantity[];
export const heads = [
  'lot',
  'customer',
  'part',
  'material',
  'recipe',
  'traveler',
  'revision',
  'step',
  'kind',
  'title',
  'tank',
  'bath',
  'supply',
  'signed by',
  'done at (UTC)',
  'pieces out',
  'outside limits',
  'signed by mistake, not done',
  ...quantities,
];
/** The line of a signed step in a table. */
export const lineOf = (hit: z.input<typeof TraceHit>): Cell[] => [
  hit.lotNumber,
  hit.customer,
  hit.part,
  hit.material,
  hit.recipe,
  hit.travelerNumber,
  hit.travelerRevision,
  hit.position,
  hit.stepKind,
  hit.title,
  hit.tank,
  hit.bath,
  hit.supply,
  hit.person,
  hit.doneAt,
  hit.countOut,
  hit.outside,
  hit.notDone,
  ...quantities.map((quantity) => hit.readings.find((reading) => reading.quantity === quantity)?.value),
];
