import pg from 'pg';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { cloneDatabase } from '../../../../../tests/support/database.ts';
import { migrate, readMigrations } from '../../db/migrate.ts';

const all = readMigrations();
const before = all.slice(
  0,
  all.findIndex(({ name }) => name.startsWith('0136')),
);
/** What parts said of their colour while it was text and figures of their own. */
const colours = {
  'A-1': { kind: 'none', sample: '', lab: [null, null, null], deltaE: null },
  'A-2': {
    kind: 'sample',
    sample: 'plate 3, as agreed with M. Oakley',
    lab: [null, null, null],
    deltaE: null,
  },
  'A-3': {
    kind: 'sample',
    sample: 'plate 3, as agreed with M. Oakley',
    lab: [null, null, null],
    deltaE: null,
  },
  'A-4': { kind: 'sample', sample: 'x'.repeat(300), lab: [null, null, null], deltaE: null },
  'A-5': { kind: 'lab', sample: '', lab: [40.25, 8, -30.5], deltaE: 2.5 },
  'A-6': { kind: 'lab', sample: '', lab: [40.25, 8, -30.5], deltaE: 3 },
} as const;

let client: pg.Client;
let drop: () => Promise<void>;
interface Taken {
  number: string;
  standardId: number | null;
  name: string;
  status: string;
  target: object | null;
  tolerance: object | null;
  sample: object | null;
  takenOverFrom: string;
}
let taken: Taken[];

beforeAll(async () => {
  const database = await cloneDatabase('template0');
  drop = database.drop;
  await migrate(database.url, before);
  client = new pg.Client({ connectionString: database.url });
  await client.connect();
  await client.query(
    `insert into "person" ("name", "displayName", "roles") values ('olive', 'Olive', '{owner}')`,
  );
  await client.query(
    `insert into "customer" ("number", "name", "currency") values ('C-1', 'Kestrel', 'EUR'), ('C-2', 'Otter', 'EUR')`,
  );
  await client.query(
    `insert into "material" ("name", "baseMetal", "densityKgPerM3", "heatCapacityJPerKgK", "source", "evidence") values ('Titanium', 'titanium', 4510, 523, 'test', 'shop')`,
  );
  for (const customerId of [1, 2])
    for (const [number, { kind, sample, lab, deltaE }] of Object.entries(colours))
      await client.query(
        `insert into "part" ("customerId", "number", "revision", "materialId", "geometryKind", "geometry", "areaMm2", "electricalAreaMm2",
           "coatedAreaMm2", "areaMethod", "areaFoundById", "areaFoundAt", "colourKind", "colourSample", "colourL", "colourA", "colourB", "toleranceDeltaE")
         values ($1, $2, 'A', 1, 'typed', '{}', 1, 1, 1, 'typed', 1, now(), $3, $4, $5, $6, $7, $8)`,
        [customerId, number, kind, sample, ...lab, deltaE],
      );
  await migrate(database.url, all);
  ({ rows: taken } = await client.query<Taken>(
    `select p."number", s."id" as "standardId", r."name", r."status", r."target", r."tolerance", r."sample", r."takenOverFrom"
       from "part" p left join "colour_standard" s on s."id" = p."colourStandardId" and s."customerId" = p."customerId"
       left join "colour_standard_revision" r on r."standardId" = s."id"
      order by p."customerId", p."number"`,
  ));
}, 60_000);
afterAll(async () => {
  await client.end();
  await drop();
});

test.each(Object.entries(colours))(
  'the colour of part %s was lost on its way into a standard',
  (number, colour) => {
    const { kind, sample, lab, deltaE } = colour;
    const both = taken.filter((one) => one.number === number);
    expect(both).toHaveLength(2);
    for (const one of both) {
      if (kind === 'none') expect(one.standardId).toBeNull();
      else {
        const [L, a, b] = lab;
        expect(one).toMatchObject({
          status: 'approved',
          sample: kind === 'sample' ? { name: sample } : null,
          target: kind === 'lab' ? { L, a, b } : null,
          tolerance: kind === 'lab' ? { from: 'target', deltaE } : null,
          takenOverFrom: expect.stringContaining(`${number} rev A`) as string,
        });
      }
    }
  },
);

test('parts that said the same share a standard, and no two customers do', () => {
  const idOf = (place: number) => taken[place]?.standardId;
  expect(idOf(1)).toBe(idOf(2));
  expect(new Set(taken.flatMap(({ standardId }) => standardId ?? [])).size).toBe(8);
});
