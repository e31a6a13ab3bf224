import type {
  Material,
  NewPolarizationScan,
  PolarizationScan,
  PolarizationScanItem,
} from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { testApp, type TestApp } from '../../../../../tests/support/app.ts';
import { post } from '../../../../../tests/support/lab.ts';

type Person = Awaited<ReturnType<TestApp['as']>>;
const { as, db } = await testApp();
let lab: Person;
let operator: Person;
let materialId: number;
beforeAll(async () => {
  [lab, operator] = [await as('lab'), await as('operator')];
  await post(lab, '/api/materials/starting-library', {});
  const { items } = (await lab({ url: '/api/materials?limit=200' })).json<{ items: Material[] }>();
  materialId = items.find(({ name }) => name === 'Carbon steel 1075')?.id ?? 0;
});

const url = '/api/polarization-scans';
/** A line of so many ohm through -0.45 V. */
const line = (ohm: number) =>
  Array.from({ length: 21 }, (_, index) => ({
    potentialV: -0.46 + 0.001 * index,
    currentA: (0.001 * (index - 10)) / ohm,
  }));
const scan = (extra: Partial<NewPolarizationScan> = {}): NewPolarizationScan => ({
  ...{
    materialId,
    finish: 'bare',
    specimen: 'B1',
    film: '',
    medium: 'tap water',
    temperatureC: 21,
    scannedOn: '2026-03-02',
  },
  ...{ areaMm2: 1000, solutionResistanceOhm: 0, windowV: 0.01, sternGearyV: 0.026, equivalentWeight: 27.92 },
  ...{ points: line(1250), fileName: '', note: '' },
  ...extra,
});
const issues = async (input: object) => {
  const reply = await lab({ method: 'POST', url, payload: input });
  expect(reply.statusCode).toBe(422);
  return (reply.json<{ issues?: { path: string }[] }>().issues ?? []).map(({ path }) => path);
};

describe('a polarization scan', () => {
  it('is kept with the rate that its points give: 12,500 ohm cm2 of steel is 0.024 mm a year (ASTM G102)', async () => {
    const kept = await post<PolarizationScan>(lab, url, scan());
    expect(kept.number).toMatch(/^PS-\d+$/);
    expect(kept.result.polarizationResistanceOhmCm2).toBeCloseTo(12_500, 4);
    expect(kept.result.mmPerYear).toBeCloseTo((3.27e-3 * 2.08 * 27.92) / (kept.densityKgPerM3 / 1000), 4);
    expect((await lab({ url: `${url}/${kept.id}` })).json()).toEqual(kept);
  });

  it('takes the resistance of the solution off by the area, and says so where nobody measured it', async () => {
    const less = await post<PolarizationScan>(lab, url, scan({ solutionResistanceOhm: 250 }));
    expect(less.result.polarizationResistanceOhmCm2).toBeCloseTo(10_000, 4);
    const unknown = await post<PolarizationScan>(lab, url, scan({ solutionResistanceOhm: null }));
    expect(unknown.result.flags.join()).toContain('solution resistance');
  });

  it.each([
    [
      'a solution that resists more than the whole',
      { solutionResistanceOhm: 5000 },
      ['solutionResistanceOhm'],
    ],
    ['anodic current alone', { points: line(1250).slice(11) }, ['points']],
    ['currents with their sign turned', { points: line(-1250) }, ['points']],
    ['millivolts as volts', { windowV: 10 }, ['windowV']],
    ['a Stern-Geary coefficient in millivolts', { sternGearyV: 26 }, ['sternGearyV']],
    ['two points', { points: line(1250).slice(0, 2) }, ['points']],
    ['a material that is none', { materialId: 999_999 }, ['materialId']],
  ])('is refused for %s, by the field', async (_, extra, paths) => {
    const before = await db.prisma.polarizationScan.count();
    expect(await issues(scan(extra as Partial<NewPolarizationScan>))).toEqual(paths);
    expect(await db.prisma.polarizationScan.count()).toBe(before);
  });

  it('is read by an operator and entered by none', async () => {
    expect((await operator({ method: 'POST', url, payload: scan() })).statusCode).toBe(403);
    expect((await operator({ url })).statusCode).toBe(200);
  });

  it('is replaced once, with a reason; the old one stands, points to the new and leaves the list', async () => {
    const wrong = await post<PolarizationScan>(lab, url, scan({ areaMm2: 100 }));
    const replacement = `${url}/${wrong.id}/replacement`;
    const replies = await Promise.all(
      [1, 2].map(() =>
        lab({ method: 'POST', url: replacement, payload: { ...scan(), reason: 'area in cm2' } }),
      ),
    );
    expect(replies.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
    const old = (await lab({ url: `${url}/${wrong.id}` })).json<PolarizationScan>();
    expect(old).toMatchObject({ areaMm2: 100, replacedBy: { reason: 'area in cm2' } });
    const { items } = (await lab({ url })).json<{ items: PolarizationScanItem[] }>();
    expect(items.map(({ id }) => id)).not.toContain(wrong.id);
    expect(items.map(({ id }) => id)).toContain(old.replacedBy?.id);
  });

  it('cannot be changed or removed behind the service', async () => {
    const { id } = await post<PolarizationScan>(lab, url, scan());
    await expect(
      db.prisma.polarizationScan.update({ where: { id }, data: { areaMm2: 1 } }),
    ).rejects.toThrow();
    await expect(db.prisma.polarizationScan.delete({ where: { id } })).rejects.toThrow();
  });

  it('keeps the name that its material had', async () => {
    const { id, material } = await post<PolarizationScan>(lab, url, scan());
    await db.prisma.material.update({ where: { id: materialId }, data: { name: 'Another steel' } });
    const { material: later } = (await lab({ url: `${url}/${id}` })).json<PolarizationScan>();
    await db.prisma.material.update({ where: { id: materialId }, data: { name: material.name } });
    expect(later.name).toBe(material.name);
  });

  it('leaves as CSV', async () => {
    const csv = (await lab({ url: `${url}.csv` })).body;
    expect(csv.split('\n')[0]).toContain('mmPerYearLow');
    expect(csv).toContain('Carbon steel 1075');
  });
});
