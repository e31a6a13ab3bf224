import type { Bath, NewTank, Rack, Tank } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { testApp, type Ask, type TestApp } from '../../../../../tests/support/app.ts';

let planner: Ask;
let operator: Ask;
let app: TestApp;
beforeAll(async () => {
  app = await testApp();
  planner = await app.as('planner');
  operator = await app.as('operator');
});

const tank = (code: string, extra: Partial<NewTank> = {}): NewTank => ({
  code,
  name: `Tank ${code}`,
  kind: 'electrolytic',
  contents: 'mild-salt',
  insideLengthMm: 1200,
  insideWidthMm: 800,
  insideDepthMm: 900,
  workingVolumeL: 780,
  heaterKw: 0,
  coolerKw: 2,
  cover: 'none',
  temperatureMinC: 15,
  temperatureMaxC: 25,
  lineOrder: 10,
  notes: '',
  ...extra,
});
const added = async (payload: NewTank) =>
  (await planner({ method: 'POST', url: '/api/tanks', payload })).json<Tank>();
const put = ({ ask, id, version, payload }: { ask?: Ask; id: number; version: number; payload: object }) =>
  (ask ?? planner)({
    method: 'PUT',
    url: `/api/tanks/${id}`,
    headers: { 'if-match': `"${version}"` },
    payload,
  });
const issuesOf = (reply: Awaited<ReturnType<Ask>>) =>
  reply.json<{ issues?: { path: string; message: string }[] }>().issues ?? [];

describe('tanks', () => {
  it('are added with the volume their inside holds', async () => {
    const reply = await planner({ method: 'POST', url: '/api/tanks', payload: tank('A1') });
    expect(reply.statusCode).toBe(201);
    expect(reply.headers.etag).toBe('"1"');
    expect(reply.json()).toMatchObject({
      code: 'A1',
      geometricVolumeL: 864,
      bath: null,
      supplies: [],
      version: 1,
    });
  });

  it.each([
    [{ workingVolumeL: 865 }, 'workingVolumeL'],
    [{ temperatureMinC: 26 }, 'temperatureMinC'],
    [{ kind: 'bench' }, 'contents'],
    [{ contents: 'air' }, 'contents'],
    [{ code: '' }, 'code'],
    [{ insideDepthMm: 0 }, 'insideDepthMm'],
    [{ heaterKw: -1 }, 'heaterKw'],
  ])('are refused with %j, naming the field', async (change, path) => {
    const reply = await planner({
      method: 'POST',
      url: '/api/tanks',
      payload: { ...tank('A2'), ...change },
    });
    expect(reply.statusCode).toBe(422);
    expect(issuesOf(reply).map((issue) => issue.path)).toContain(path);
  });

  it('have codes of their own', async () => {
    await added(tank('B1'));
    const reply = await planner({ method: 'POST', url: '/api/tanks', payload: tank('B1') });
    expect(reply.statusCode).toBe(422);
    expect(issuesOf(reply)).toEqual([{ path: 'code', message: 'B1 is already in use' }]);
  });

  it('refuse an edit of an older version and show what stands there now', async () => {
    const { id } = await added(tank('C1'));
    expect(
      (await put({ id, version: 1, payload: { ...tank('C1'), name: 'First', archived: false } })).statusCode,
    ).toBe(200);
    const late = await put({ id, version: 1, payload: { ...tank('C1'), name: 'Second', archived: false } });
    expect(late.statusCode).toBe(412);
    expect(late.json()).toMatchObject({ code: 'version-conflict', current: { name: 'First', version: 2 } });
    const history = await planner({ url: `/api/history/tank/${id}` });
    expect(history.json<{ items: { changes: unknown[] }[] }>().items[0]?.changes).toEqual([
      { field: 'name', old: 'Tank C1', new: 'First' },
    ]);
  });

  it('let one of two edits at once through', async () => {
    const { id } = await added(tank('C2'));
    const both = await Promise.all(
      ['One', 'Other'].map((name) =>
        put({ id, version: 1, payload: { ...tank('C2'), name, archived: false } }),
      ),
    );
    expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([200, 412]);
  });

  it('are changed only by those who may', async () => {
    const { id } = await added(tank('D1'));
    expect((await operator({ url: `/api/tanks/${id}` })).statusCode).toBe(200);
    expect((await operator({ method: 'POST', url: '/api/tanks', payload: tank('D2') })).statusCode).toBe(403);
    const edit = await put({ ask: operator, id, version: 1, payload: { ...tank('D1'), archived: false } });
    expect(edit.statusCode).toBe(403);
    expect((await planner({ url: '/api/tanks/999999' })).statusCode).toBe(404);
  });

  it('are listed along the line, page by page, and found by name', async () => {
    for (const [code, lineOrder] of [
      ['E3', 3],
      ['E1', 1],
      ['E2', 2],
    ] as const) {
      await added(tank(code, { name: `Listed ${code}`, lineOrder, contents: 'dye' }));
    }
    const first = (await planner({ url: '/api/tanks?search=listed&limit=2' })).json<{
      items: Tank[];
      next: string;
    }>();
    expect(first.items.map(({ code }) => code)).toEqual(['E1', 'E2']);
    const rest = await planner({ url: `/api/tanks?search=listed&limit=2&after=${first.next}` });
    expect(rest.json<{ items: Tank[] }>().items.map(({ code }) => code)).toEqual(['E3']);
    expect(rest.json()).toMatchObject({ next: null });
    const dyes = await planner({ url: '/api/tanks?contents=dye&kind=rinse' });
    expect(dyes.json()).toEqual({ items: [], next: null });
  });

  it('leave the list when archived, and come out as CSV', async () => {
    const { id } = await added(tank('F1', { name: '=danger()' }));
    await put({ id, version: 1, payload: { ...tank('F1', { name: '=danger()' }), archived: true } });
    expect((await planner({ url: '/api/tanks?search=danger' })).json()).toMatchObject({ items: [] });
    const csv = await planner({ url: '/api/tanks.csv?search=danger&archived=yes' });
    expect(csv.headers['content-type']).toBe('text/csv; charset=utf-8');
    const [, line] = csv.body.split('\r\n');
    expect(line).toBe("F1,'=danger(),electrolytic,mild-salt,1200,800,900,780,0,2,none,15,25,");
  });
});

describe('baths', () => {
  const start = (id: number) =>
    planner({ method: 'POST', url: `/api/tanks/${id}/baths`, payload: { notes: '' } });
  const dump = (bath: Bath) =>
    planner({
      method: 'POST',
      url: `/api/baths/${bath.id}/dump`,
      headers: { 'if-match': `"${bath.version}"` },
      payload: { reason: 'too much carbonate' },
    });

  it('are born once at a time and closed with a reason', async () => {
    const { id } = await added(tank('G1'));
    const made = await start(id);
    expect(made.statusCode).toBe(201);
    const bath = made.json<Bath>();
    expect(bath).toMatchObject({ tankCode: 'G1', contents: 'mild-salt', dumpedAt: null });
    expect(bath.number).toMatch(/^B-\d{5}$/);
    expect((await start(id)).statusCode).toBe(409);

    const dumped = await dump(bath);
    expect(dumped.json()).toMatchObject({ dumpReason: 'too much carbonate', version: 2 });
    expect((await dump(bath)).statusCode).toBe(409);
    await expect(
      app.db.prisma.bath.update({ where: { id: bath.id }, data: { notes: 'touched' } }),
    ).rejects.toThrow(/dumped/);
    expect((await start(id)).statusCode).toBe(201);
    const fills = await planner({ url: `/api/tanks/${id}/baths` });
    expect(fills.json<{ items: Bath[] }>().items.map(({ dumpedAt }) => dumpedAt === null)).toEqual([
      true,
      false,
    ]);
  });

  it('start once when two people fill at the same moment', async () => {
    const { id } = await added(tank('G2'));
    const both = await Promise.all([start(id), start(id)]);
    expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
  });

  it('keep their tank from being used for something else', async () => {
    const { id } = await added(tank('G3'));
    await start(id);
    const other = await put({
      id,
      version: 1,
      payload: { ...tank('G3', { contents: 'dye' }), archived: false },
    });
    expect(other.statusCode).toBe(422);
    expect(issuesOf(other)[0]?.path).toBe('contents');
    const away = await put({ id, version: 1, payload: { ...tank('G3'), archived: true } });
    expect(issuesOf(away)[0]?.path).toBe('archived');
  });

  it('are not filled into a bench', async () => {
    const { id } = await added(tank('G4', { kind: 'bench', contents: 'air' }));
    expect((await start(id)).statusCode).toBe(409);
  });
});

describe('power supplies', () => {
  const supply = (code: string, tankIds: number[]) => ({
    code,
    name: 'Rectifier',
    maxVoltageV: 120,
    maxCurrentA: 40,
    efficiency: 0.85,
    notes: '',
    tankIds,
  });
  const add = (payload: object) => planner({ method: 'POST', url: '/api/power-supplies', payload });

  it('reach electrolytic tanks, each once', async () => {
    const { id } = await added(tank('H1'));
    const rinse = await added(tank('H2', { kind: 'rinse', contents: 'water-rinse' }));
    const reply = await add(supply('PS1', [id]));
    expect(reply.statusCode).toBe(201);
    expect(reply.json()).toMatchObject({ tanks: [{ id, code: 'H1' }], tankIds: [id] });
    expect((await planner({ url: `/api/tanks/${id}` })).json()).toMatchObject({
      supplies: [{ code: 'PS1' }],
    });
    expect(issuesOf(await add(supply('PS2', [id, id])))[0]).toMatchObject({ path: 'tankIds.1' });
    expect(issuesOf(await add(supply('PS2', [id, rinse.id])))[0]).toMatchObject({ path: 'tankIds.1' });
    expect(issuesOf(await add(supply('PS2', [999_999])))[0]).toMatchObject({ path: 'tankIds.0' });
  });

  it('can be moved to other tanks, with a history in words', async () => {
    const one = await added(tank('H3'));
    const other = await added(tank('H4'));
    const { id } = (await add(supply('PS3', [one.id]))).json<{ id: number }>();
    const moved = await planner({
      method: 'PUT',
      url: `/api/power-supplies/${id}`,
      headers: { 'if-match': '"1"' },
      payload: { ...supply('PS3', [other.id]), archived: false },
    });
    expect(moved.json()).toMatchObject({ tanks: [{ code: 'H4' }], version: 2 });
    const history = await planner({ url: `/api/history/supply/${id}` });
    expect(history.json<{ items: { changes: unknown[] }[] }>().items[0]?.changes).toEqual([
      { field: 'tanks', old: ['H3'], new: ['H4'] },
    ]);
    const list = await planner({ url: '/api/power-supplies?search=PS3' });
    expect(list.json<{ items: { code: string }[] }>().items.map(({ code }) => code)).toEqual(['PS3']);
    expect((await planner({ url: '/api/power-supplies.csv' })).body).toContain(
      'PS3,Rectifier,120,40,0.85,H4',
    );
  });
});

describe('racks', () => {
  const rack = (code: string, baseMetal: string) => ({
    code,
    name: 'Rack',
    baseMetal,
    hooks: 60,
    windowWidthMm: 900,
    windowHeightMm: 600,
    layers: 1,
    gapMm: 20,
    maxLoadKg: 8,
    massKg: 3,
    bareAreaMm2: 12_000,
    notes: '',
  });

  it('say what their metal must never enter', async () => {
    const aluminium = await planner({ method: 'POST', url: '/api/racks', payload: rack('R1', 'aluminium') });
    expect(aluminium.statusCode).toBe(201);
    expect(aluminium.json<Rack>().forbidden.map(({ contents }) => contents)).toContain('hot-caustic');
    const titanium = await planner({ method: 'POST', url: '/api/racks', payload: rack('R2', 'titanium') });
    expect(titanium.json<Rack>().forbidden).toEqual([]);
  });

  it('are changed, filtered by metal and exported', async () => {
    const { id } = (
      await planner({ method: 'POST', url: '/api/racks', payload: rack('R3', 'steel') })
    ).json<Rack>();
    const changed = await planner({
      method: 'PUT',
      url: `/api/racks/${id}`,
      headers: { 'if-match': '"1"' },
      payload: { ...rack('R3', 'steel'), hooks: null, archived: false },
    });
    expect(changed.json()).toMatchObject({ hooks: null, version: 2 });
    const steel = await planner({ url: '/api/racks?baseMetal=steel' });
    expect(steel.json<{ items: Rack[] }>().items.map(({ code }) => code)).toEqual(['R3']);
    expect((await planner({ url: '/api/racks.csv' })).body).toContain(
      'R3,Rack,steel,,900,600,1,20,8,3,12000',
    );
  });
});
