import type { BathSummary } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { testApp } from '../support/app.ts';
import * as lab from '../support/lab.ts';

interface BoardPage {
  items: BathSummary[];
  next: string | null;
}
const { db, as } = await testApp();

test('a filter by state goes through a long line page by page and shows each bath once', async () => {
  const lena = await as('lab');
  const first = await lab.equipLab(lena);
  await lab.analyse(lena, first, { factor: 0.9 });
  // More plain rinses than are judged at once, and behind them another bath that is stopped.
  await db.pool.query(
    `with tanks as (
       insert into "tank" ("code", "name", "kind", "contents", "insideLengthMm", "insideWidthMm", "insideDepthMm", "workingVolumeL",
                           "heaterKw", "coolerKw", "cover", "lineOrder", "notes")
       select 'R' || n, 'Rinse', 'rinse', 'water-rinse', 1000, 600, 850, 400, 0, 0, 'none', 50, '' from generate_series(1, 430) n
       returning "id")
     insert into "bath" ("number", "tankId", "contents", "madeUpAt", "madeUpById", "notes")
     select 'R-' || "id", "id", 'water-rinse', now(), $1, '' from tanks`,
    [lena.personId],
  );
  const last = await lab.equipLab(lena);
  await db.pool.query(
    `update "tank" set "lineOrder" = case "id" when $1 then 1 else 99 end where "id" in ($1, $2)`,
    [first.tank.id, last.tank.id],
  );
  await lab.analyse(lena, last, { factor: 0.9 });

  const all = async (query: string): Promise<{ items: BathSummary[]; pages: number }> => {
    const items: BathSummary[] = [];
    let pages = 0;
    for (let after: string | null = ''; after !== null; pages += 1) {
      const reply: Awaited<ReturnType<typeof lena>> = await lena({
        url: `/api/baths?${query}&after=${after}`,
      });
      expect(reply.statusCode, reply.body).toBe(200);
      const page = reply.json<BoardPage>();
      items.push(...page.items);
      after = page.next;
    }
    return { items, pages };
  };
  const stopped = await all('state=stop&limit=1');
  expect(stopped.items.map(({ id }) => id)).toEqual([first.bath.id, last.bath.id]);
  expect(stopped.pages).toBe(2);
  const rinses = await all('state=not-watched&limit=100');
  expect(rinses.items).toHaveLength(430);
  expect(rinses.pages).toBe(5);
  expect(new Set(rinses.items.map(({ id }) => id)).size).toBe(430);
  expect((await all('limit=200')).items).toHaveLength(432);
  expect((await all('state=on-hold')).items).toEqual([]);
});
