import type { ColourStandard, LotSummary, PageRef, Quotation } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { mainLine, ok, post } from '../support/main-line.ts';

const { as, db, shop, estimator, planner, operator, draft, releasedLots, signAll } = await mainLine();

interface Today {
  sections: {
    key: string;
    items: { page: PageRef; title: string; detail: string; when: string; urgent: boolean }[];
  }[];
}
const today = async (ask: typeof estimator) => (await ok<Today>(ask({ url: '/api/today' }))).sections;
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

  const expiring = async (ask: typeof estimator) =>
    (await today(ask)).find(({ key }) => key === 'colourStandards')?.items;
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

test('a colour meter ran past its calibration, and nobody whose offers rest on what it read was told', async () => {
  const [lot, next] = (await releasedLots()) as [LotSummary, LotSummary];
  await signAll(lot.id);
  const reading = {
    ...{ zone: '', place: 'blade', spot: null, grade: 'measured', lab: { L: 40, a: 8, b: -30 } },
    ...{ spectrum: null, instrumentId: shop.colourMeterId, instrument: '', expandedUncertainty: 0.5 },
    ...{ conditions: { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 } },
    ...{ outcome: null, confirmed: false, note: '' },
  };
  const body = { readings: [reading], fileName: '', second: null };
  await ok(post(operator, `/lots/${lot.id}/colour-readings`, body), 201);
  const due = (code: string, days: number) => ({
    ...{ code, name: 'Spare meter', kind: 'colour-meter' },
    calibrationDueOn: new Date(dayIn(days)),
  });
  await db.prisma.instrument.createMany({ data: [due('CM-5', 10), due('CM-6', 90)] });
  const { code } = await db.prisma.instrument.update({
    where: { id: shop.colourMeterId },
    data: { calibrationDueOn: new Date(dayIn(-2)) },
  });
  for (const ask of [estimator, planner]) {
    const meters = (await today(ask)).find(({ key }) => key === 'colourMeters')?.items;
    expect(meters?.map(({ title }) => title.split(' ')[0])).toEqual([code, 'CM-5']);
    expect(meters?.[0]).toMatchObject({ page: { kind: 'instrument', id: shop.colourMeterId }, urgent: true });
    expect(meters?.[0]?.detail).toMatch(/^overdue: .*; quoted on Q-.*; lots .*/);
    expect(meters?.[0]?.detail).toContain(next.number);
    expect(meters?.[1]).toMatchObject({ detail: 'due for calibration', urgent: false });
  }
  expect((await today(operator)).some(({ key }) => key === 'colourMeters')).toBe(false);
});
