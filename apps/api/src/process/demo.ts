import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { loadDemo, type DemoPerson } from '../demo/load.ts';
import type { Db } from '../db/client.ts';
import { removeEmbedded } from '../db/embedded/index.ts';
import { root } from './root.ts';
import { serve } from './serve.ts';

/** The service with an invented shop in it, which keeps what is entered until it is reset. */
export function demo({ reset }: { reset: boolean }): Promise<never> {
  return serve({
    dataDir: path.join(root, '.huelot', 'demo'),
    before: async ({ databaseUrl, dataDir }) => {
      if (databaseUrl !== null)
        throw new Error('the demo has a database of its own. Start it without DATABASE_URL.');
      const wasCutOff = !existsSync(peopleFile(dataDir));
      if (!reset && !wasCutOff) return;
      await removeEmbedded(dataDir);
      rmSync(peopleFile(dataDir), { force: true });
    },
    // The invented past is written past the rules of the record, which takes the owner of the tables.
    welcome: async (_db, { dataDir, publicUrl }, asOwner) =>
      describe(readPeople(dataDir) ?? (await asOwner((db) => fill(db, { dataDir, publicUrl })))),
  });
}

/** Who can sign in, kept for the next start; written last, so that it is there only if the shop is whole. */
const peopleFile = (dataDir: string) => path.join(dataDir, 'demo-people.json');

async function fill(
  db: Db,
  { dataDir, publicUrl }: { dataDir: string; publicUrl: string },
): Promise<DemoPerson[]> {
  console.log('Creating the demo shop ...');
  const { people } = await loadDemo(db, { log: (line) => console.log(`  ${line}`), publicUrl });
  writeFileSync(peopleFile(dataDir), JSON.stringify(people, null, 2), { mode: 0o600 });
  return people;
}

function readPeople(dataDir: string): DemoPerson[] | null {
  const file = peopleFile(dataDir);
  return existsSync(file) ? (JSON.parse(readFileSync(file, 'utf8')) as DemoPerson[]) : null;
}

function describe(people: DemoPerson[]): string[] {
  const width = (key: 'role' | 'name') => Math.max(...people.map((person) => person[key].length));
  return [
    '',
    'Everything in it is invented. Sign in as',
    ...people.map(
      ({ role, name, password }) =>
        `  ${role.padEnd(width('role'))}  ${name.padEnd(width('name'))}  ${password}`,
    ),
    '',
  ];
}
