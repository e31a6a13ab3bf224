import type {
  Analysis,
  AnalysisSummary,
  BathChart,
  NotebookMapping,
  NotebookPreview,
} from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Ask, testApp } from '../../../../../tests/support/app.ts';
import * as lab from '../../../../../tests/support/lab.ts';

const { as, db } = await testApp();
let lena: Ask & { personId: number };
let of: lab.EquippedLab;
beforeAll(async () => {
  lena = await as('lab', 'planner');
  await db.prisma.shop.update({ where: { id: 1 }, data: { timeZone: 'Europe/Vienna' } });
});

const mapping: NotebookMapping = {
  sampledAt: 'Day',
  dayOrder: 'day-month-year',
  decimal: 'comma',
  separator: 'semicolon',
  analyst: 'Who',
  notes: 'Remarks',
  values: [
    {
      column: 'KOH %',
      component: 'KOH',
      unit: 'massFraction',
      isPercent: true,
      referenceTemperatureC: null,
      standardUncertainty: null,
    },
    {
      column: 'Carbonate g/L',
      component: 'K2CO3',
      unit: 'gramsPerLitre',
      isPercent: false,
      referenceTemperatureC: 20,
      standardUncertainty: 5,
    },
  ],
};
const heads = 'Day;Who;KOH %;Carbonate g/L;Remarks';
const notebook = (...lines: string[]) => [heads, ...lines].join('\r\n');
const fresh = async () => {
  of = await lab.equipLab(lena);
  await db.prisma.bath.update({
    where: { id: of.bath.id },
    data: { madeUpAt: new Date('2026-01-02T00:00:00Z') },
  });
};
const send = (place: '/preview' | '', csv: string, extra: Partial<NotebookMapping> = {}) =>
  lena({
    method: 'POST',
    url: `/api/baths/${of.bath.id}/notebook${place}`,
    payload: { csv, mapping: { ...mapping, ...extra } },
  });

describe('a notebook', () => {
  beforeAll(fresh);
  const csv = notebook(
    '05.01.2026;Paul;49,8;12,5;',
    '12.01.2026 08:30;Paul;47,1;;"low; ""added"" flake"',
    '19.01.2026;Mia;44,2;14;',
  );

  it('is shown before it is stored, with each figure judged', async () => {
    const seen = (await send('/preview', csv)).json<NotebookPreview>();
    expect(seen).toMatchObject({ rows: 3, faultCount: 0, columns: heads.split(';') });
    expect(seen.sample[0]).toMatchObject({ line: 2, analyst: 'Paul', sampledAt: '2026-01-05T11:00:00.000Z' });
    expect(seen.sample[1]).toMatchObject({
      sampledAt: '2026-01-12T07:30:00.000Z',
      notes: 'low; "added" flake',
    });
    expect(seen.sample.map(({ results }) => results.map(({ state }) => state))).toEqual([
      ['in-range', 'in-range'],
      ['watch'],
      ['stop', 'in-range'],
    ]);
    expect(await db.prisma.analysis.count({ where: { bathId: of.bath.id } })).toBe(0);
  });

  it('is stored whole, with who wrote it, and shows in the chart', async () => {
    const reply = await send('', csv);
    expect(reply.statusCode, reply.body).toBe(201);
    expect(reply.json()).toEqual({ analyses: 3, results: 5 });
    const { items } = (await lena({ url: `/api/analyses?bathId=${of.bath.id}` })).json<{
      items: AnalysisSummary[];
    }>();
    expect(items.map(({ analyst, why }) => [analyst, why])).toEqual([
      ['Mia', 'notebook'],
      ['Paul', 'notebook'],
      ['Paul', 'notebook'],
    ]);
    const [third, second, one] = items.map(({ number }) => Number(number.slice(2)));
    expect([second, third]).toEqual([(one ?? NaN) + 1, (one ?? NaN) + 2]);
    const first = (await lena({ url: `/api/analyses/${items[2]?.id ?? 0}` })).json<Analysis>();
    expect(first.results[0]?.value).toBeCloseTo(0.498, 12);
    const chart = (
      await lena({ url: `/api/tanks/${of.tank.id}/bath-chart?component=KOH` })
    ).json<BathChart>();
    expect(chart.points.value).toEqual([0.498, 0.471, 0.442]);
  });
});

describe('faults of a notebook', () => {
  beforeAll(fresh);

  it('stand at their cells, and while there is one nothing is stored', async () => {
    const csv = notebook(
      '05.01.2026;Paul;49,8;12,5;',
      '31.02.2026;Paul;49,8;12,5;',
      '12.01.2026;Paul;a lot;12.5;',
      '13.01.2026;Paul;;;',
      '01.01.2020;Paul;49,8;;',
      '01.01.2099;Paul;49,8;;',
    );
    const { faults } = (await send('/preview', csv)).json<NotebookPreview>();
    expect(faults.map(({ line, column }) => [line, column])).toEqual([
      [3, 'Day'],
      [4, 'KOH %'],
      [4, 'Carbonate g/L'],
      [5, 'KOH %'],
      [6, 'Day'],
      [7, 'Day'],
    ]);
    const refused = await send('', csv);
    expect(refused.statusCode).toBe(422);
    expect(refused.json<{ detail: string }>().detail).toContain('line 3, Day');
    expect(await db.prisma.analysis.count({ where: { bathId: of.bath.id } })).toBe(0);
  });

  it('are not made by cutting a long note: it is cut between characters', async () => {
    const long = `${'n'.repeat(999)}😀`;
    const reply = await send('', notebook(`06.01.2026;Paul;49,8;;${long}`));
    expect(reply.statusCode, reply.body).toBe(201);
    const kept = await db.prisma.analysis.findFirstOrThrow({ where: { bathId: of.bath.id } });
    expect(kept.notes).toBe('n'.repeat(999));
  });

  it.each([
    ['a column that is not there', heads, { sampledAt: 'Date' }, 'mapping.sampledAt'],
    ['nothing below the heads', heads, {}, 'csv'],
    ['half of a character', notebook('05.01.2026;Paul;49,8;12,5;\ud83d'), {}, 'csv'],
    ['a quote that never closes', notebook('05.01.2026;"Paul;49,8;12,5;'), {}, 'csv'],
  ])('say so of %s', async (...[, csv, more, path]) => {
    const reply = await send('', csv, more);
    expect(reply.statusCode).toBe(422);
    expect(reply.json<{ issues: { path: string }[] }>().issues[0]?.path).toBe(path);
  });

  it('can be avoided with the template', async () => {
    const reply = await lena({ url: `/api/baths/${of.bath.id}/notebook/template.csv` });
    expect(reply.headers['content-type']).toBe('text/csv; charset=utf-8');
    expect(reply.body).toBe('\uFEFFsampled at,analyst,KOH wt%,K2CO3 g/L,notes\r\n');
  });
});
