import type { ColourStandard, PageRef, Quotation } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { mainLine, ok, post } from '../support/main-line.ts';

const { as, db, shop, estimator, planner, operator, draft } = await mainLine();

const dayIn = (days: number) => new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);

test('a colour standard ran out, and nobody whose offers rest on it was told', async () => {
  const input = {
    ...{ code: 'DUSK-1', customerId: shop.customerId, name: 'Dusk blue', grade: 'measured' },
    ...{ target: { L: 40, a: 8, b: -30 }, light: null, dark: null, instrument: 'SP-1' },
    ...{
      conditions: { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 },
      sample: null,
      photoId: null,
    },
    ...{ tolerance: { from: 'target', deltaE: 3, kL: 1, kC: 1, kH: 1 }, agreedBy: 'M. Oakley' },
    ...{ agreedOn: dayIn(-300), expiresOn: dayIn(10), notes: '', changeNote: '' },
  };
  const standard = await ok<ColourStandard>(post(estimator, '/colour-standards', input), 201);
  const quality = await as('quality');
  await ok(
    post(
      quality,
      `/colour-standard-revisions/${standard.revisionId}/approve`,
      {},
      { 'if-match': `"${standard.version}"` },
    ),
  );
  await db.prisma.part.update({
    where: { id: shop.partId },
    data: { colourStandardId: standard.standardId },
  });
  const quotation = await ok<Quotation>(
    post(estimator, '/quotations', { customerId: shop.customerId, ...draft([24]) }),
    201,
  );

  interface Today {
    sections: { key: string; items: { page: PageRef; title: string; detail: string; when: string }[] }[];
  }
  const expiring = async (ask: typeof estimator) =>
    (await ok<Today>(ask({ url: '/api/today' }))).sections.find(({ key }) => key === 'colourStandards')
      ?.items;
  for (const ask of [estimator, planner])
    expect(await expiring(ask)).toMatchObject([
      {
        page: { kind: 'colourStandard', id: standard.standardId },
        title: 'DUSK-1 rev 1, Dusk blue',
        detail: expect.stringContaining(`quoted on ${quotation.number}`) as string,
        when: dayIn(10),
      },
    ]);
  expect(await expiring(operator)).toBeUndefined();
});
