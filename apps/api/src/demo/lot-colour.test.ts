import type { ColourStandard, Lot } from '@huelot/contracts';
import { beforeAll, expect, test } from 'vitest';
import { mainLine, ok, post } from '../../../../tests/support/main-line.ts';
import type { Actor } from '../kernel/actor.ts';
import { seededRandom } from './chance.ts';
import type { Job, Shop } from './job.ts';
import { readColour } from './lot-colour.ts';

const line = await mainLine();
const { db, shop, estimator, operator, quality } = line;
beforeAll(async () => {
  const standard = await ok<ColourStandard>(
    post(estimator, '/colour-standards', {
      ...{ code: 'BLUE-1', customerId: null, name: 'Peacock blue', target: { L: 52, a: 36, b: -18 } },
      ...{ light: null, dark: null, instrument: 'SP-1', sample: null, grade: 'measured', agreedBy: '' },
      conditions: { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 },
      tolerance: { from: 'target', deltaE: 4, kL: 1, kC: 1, kH: 1 },
      ...{ agreedOn: null, expiresOn: null, photoId: null, notes: '', changeNote: '' },
    }),
    201,
  );
  const headers = { 'if-match': `"${standard.version}"` };
  await ok(post(quality, `/colour-standard-revisions/${standard.revisionId}/approve`, {}, headers));
  const data = { colourStandardId: standard.standardId };
  await db.prisma.part.update({ where: { id: shop.partId }, data });
});

const actorOf = (personId: number): Actor => ({
  ...{ personId, name: 'p', displayName: 'p', roles: ['owner'], address: '', units: 'metric', signInId: 0 },
});
const told = (chance: ReturnType<typeof seededRandom>) =>
  ({
    ...{ db, chance, equipment: { colourMeterId: shop.colourMeterId } },
    actors: { ines: actorOf(operator.personId), quentin: actorOf(quality.personId) },
    story: { at: (_: number, doing: () => Promise<unknown>) => doing() },
  }) as unknown as Shop;

test('the lots of the invented shop were all of one colour, and the one that drifted was not held', async () => {
  const chance = seededRandom(7);
  const holdsOf = async (drifts: boolean) => {
    const [lot] = await line.releasedLots();
    await line.signAll(lot?.id ?? 0);
    await readColour(told(chance), { job: { drifts } as Job, lotId: lot?.id ?? 0, when: 0 });
    return ok<Lot>(quality({ url: `/api/lots/${lot?.id}` }));
  };
  for (let i = 0; i < 4; i++) expect((await holdsOf(false)).holds).toEqual([]);
  const drifted = await holdsOf(true);
  expect(drifted.held).toBe(false);
  expect(drifted.holds[0]?.reason).toMatch(/dE \d\.\d from BLUE-1 revision 1, limit 4/);
  const read = await db.prisma.colourReading.findMany();
  expect(read).toHaveLength(15);
  expect(new Set(read.map(({ labL }) => labL)).size).toBeGreaterThan(12);
});
