import { matchHead, type ImportKind, type ImportPreview } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { testApp, type Ask } from '../../../../../tests/support/app.ts';

const { as, db } = await testApp();
let owner: Ask;
beforeAll(async () => {
  owner = await as('owner');
});

const separators = { ',': 'comma', ';': 'semicolon', '\t': 'tab' } as const;
/** What the page sends: columns matched by their heads. */
function bodyOf(kind: ImportKind, text: string, extra: object = {}) {
  const head = text.split(/\r?\n/)[0] ?? '';
  const cut = (['\t', ';', ','] as const).find((one) => head.includes(one)) ?? ',';
  const columns = head.split(cut).flatMap((column) => {
    const match = matchHead(kind, column.trim());
    return match === null ? [] : [{ column: column.trim(), ...match }];
  });
  return { text, separator: separators[cut], decimal: 'point', columns, leaveOutKnown: false, ...extra };
}
const preview = async (kind: ImportKind, text: string, extra: object = {}) => {
  const payload = bodyOf(kind, text, extra);
  const reply = await owner({ method: 'POST', url: `/api/imports/${kind}/preview`, payload });
  expect(reply.statusCode, reply.body).toBe(200);
  return reply.json<ImportPreview>();
};
const bring = (kind: ImportKind, text: string, extra: object = {}) =>
  owner({ method: 'POST', url: `/api/imports/${kind}`, payload: bodyOf(kind, text, extra) });

describe('customers', () => {
  const text =
    'Company;VAT number;Contact person;E-mail;Address;Fax\n' +
    'Nordwerk;DE 1;Ada Berg;ada@example.com;Hafen 1;1\n' +
    'Südblech;;;;"Weg 2\nStadt";2\n';

  it('come with contact and address, each by the usual command with its history', async () => {
    expect(await preview('customers', text)).toMatchObject({
      lines: 2,
      records: 2,
      faultCount: 0,
      sameFile: null,
    });
    expect(await db.prisma.customer.count()).toBe(0);
    const reply = await bring('customers', text);
    expect(reply.statusCode, reply.body).toBe(201);
    const rows = await db.prisma.customer.findMany({
      include: { contacts: true, addresses: true },
      orderBy: { id: 'asc' },
    });
    expect(rows).toMatchObject([
      {
        ...{ name: 'Nordwerk', taxNumber: 'DE 1', currency: 'EUR' },
        contacts: [{ name: 'Ada Berg', email: 'ada@example.com' }],
        addresses: [{ kind: 'billing', lines: 'Hafen 1' }],
      },
      { name: 'Südblech', contacts: [], addresses: [{ lines: 'Weg 2\nStadt' }] },
    ]);
    expect(await db.prisma.auditEntry.count({ where: { recordKind: 'customer', action: 'added' } })).toBe(2);
  });

  it('of the same file are not brought twice, also after one was renamed', async () => {
    const [one] = await db.prisma.customer.findMany({ orderBy: { id: 'asc' } });
    await db.prisma.customer.update({ where: { id: one?.id ?? 0 }, data: { name: 'Nordwerk AG' } });
    expect(await preview('customers', text)).toMatchObject({ sameFile: { records: 2 } });
    const again = await bring('customers', text, { leaveOutKnown: true });
    expect(again.statusCode).toBe(422);
    expect(again.body).toContain('this very file was imported on');
    await db.prisma.customer.update({ where: { id: one?.id ?? 0 }, data: { name: 'Nordwerk' } });
    expect(await db.prisma.customer.count()).toBe(2);
  });

  it('that are there already are found, and left out only when that is asked for', async () => {
    const more = 'name,currency\nNORDWERK,EUR\nOstglas,CHF\n';
    const seen = await preview('customers', more);
    expect(seen.known).toMatchObject([{ line: 2, name: expect.stringContaining('Nordwerk') as string }]);
    expect(seen.faults).toMatchObject([{ line: 2, column: 'name' }]);
    expect((await bring('customers', more)).statusCode).toBe(422);
    const left = await bring('customers', more, { leaveOutKnown: true });
    expect(left.json()).toEqual({ records: 1, leftOut: 1 });
  });

  it('are stored once, however often a lost answer is asked for again', async () => {
    const once = 'name,currency\nResent,EUR\n';
    const headers = { 'idempotency-key': 'import-resent-0001' };
    const payload = bodyOf('customers', once);
    const resend = () => owner({ method: 'POST', url: '/api/imports/customers', payload, headers });
    const [first, second] = [await resend(), await resend()];
    expect([first.statusCode, second.statusCode]).toEqual([201, 201]);
    expect(await db.prisma.customer.count({ where: { name: 'Resent' } })).toBe(1);
  });

  it('with a fault in one line bring nothing, and the fault has its cell and its words', async () => {
    const before = await db.prisma.customer.count();
    const text =
      'name,currency,e-mail\nGood,EUR,a@example.com\n,EUR,\nBad mail,EUR,nobody\nGood,EUR,\nX,euro,\n';
    const { faults, records } = await preview('customers', text);
    expect(records).toBe(1);
    expect(faults.map(({ line, column }) => [line, column])).toEqual([
      [3, 'name'],
      [4, 'e-mail'],
      [5, 'name'],
      [6, 'currency'],
    ]);
    expect(faults[2]?.message).toBe('Good stands in line 2 already');
    expect((await bring('customers', text)).statusCode).toBe(422);
    expect(await db.prisma.customer.count()).toBe(before);
  });
});

describe('materials and parts', () => {
  it('come from a spreadsheet with decimal commas, in the units that the heads name', async () => {
    const alloys =
      'alloy\tcondition\tmetal\tdensity (g/cm³)\theat capacity (J/(kg K))\tsource\n' +
      'Titanium grade 2\tannealed\ttitanium\t4,51\t524\tour data sheet\n' +
      'Titanium grade 2\tcold worked\tTitanium\t4,51\t524\tour data sheet\n' +
      'Aluminium 6061\tT6\taluminum\t2,7\t896\tour data sheet\n';
    expect((await bring('materials', alloys, { decimal: 'comma' })).json()).toEqual({
      records: 3,
      leftOut: 0,
    });
    expect(await db.prisma.material.findFirst({ where: { condition: 'T6' } })).toMatchObject({
      ...{ densityKgPerM3: 2700, baseMetal: 'aluminium', evidence: 'shop' },
    });

    const pieces =
      'customer,part no,rev,material,area (sq in),weight (oz),width (in),sample\n' +
      'Nordwerk,NW-1,A,Aluminium 6061,10,2,3.5,S-1\n' +
      '"C-00002",NW-2,B,"Titanium grade 2, annealed",1.5,,,\n';
    const reply = await bring('parts', pieces);
    expect(reply.statusCode, reply.body).toBe(201);
    const [first, second] = await db.prisma.part.findMany({ orderBy: { id: 'asc' } });
    expect(first).toMatchObject({ number: 'NW-1', areaMm2: 6451.6, widthMm: 88.9 });
    expect(
      await db.prisma.colourStandardRevision.findFirst({
        where: { standardId: first?.colourStandardId ?? 0 },
      }),
      'the sample is a draft of a standard',
    ).toMatchObject({ sample: { name: 'S-1', keptAt: '' }, grade: 'compared', status: 'draft' });
    expect(second?.colourStandardId).toBeNull();
    expect(first?.massKg).toBeCloseTo(0.0567, 4);
    expect(second).toMatchObject({ number: 'NW-2', revision: 'B', massKg: null });
  });

  it('with a customer or an alloy that nobody knows, or that two are called, say so at the cell', async () => {
    const { faults } = await preview(
      'parts',
      'customer,number,rev,material,area (dm2)\nNobody,1,A,Aluminium 6061,1\nNordwerk,1,A,Titanium grade 2,1\nNordwerk,2,A,Unobtainium,0\n',
    );
    expect(faults.map(({ line, column }) => [line, column])).toEqual([
      [2, 'customer'],
      [3, 'material'],
      [4, 'material'],
    ]);
    expect(faults[1]?.message).toBe(
      'say which condition: Titanium grade 2, annealed or Titanium grade 2, cold worked',
    );
  });

  it('with a figure without its unit are not read', async () => {
    const payload = {
      ...bodyOf('parts', 'customer,number,rev,material,area\nNordwerk,9,A,Aluminium 6061,4\n'),
    };
    const reply = await owner({ method: 'POST', url: '/api/imports/parts/preview', payload });
    expect(reply.statusCode).toBe(422);
    expect(reply.json()).toMatchObject({ issues: [{ path: 'columns.4.unit' }] });
    expect(reply.body).toContain('need their unit');
  });

  it('with a comma where the point is the decimal mark are asked back, not guessed', async () => {
    const { faults } = await preview(
      'parts',
      'customer;number;rev;material;area (mm2)\nNordwerk;9;A;Aluminium 6061;4.200,5\n',
    );
    expect(faults).toMatchObject([
      { line: 2, column: 'area (mm2)', message: expect.stringContaining('4.200,5') as string },
    ]);
  });

  it('that a rule of the record refuses are faults of their cell', async () => {
    const { faults } = await preview(
      'parts',
      'customer,number,rev,material,area (mm2),mass (kg)\nNordwerk,9,A,Aluminium 6061,-4,0\n',
    );
    expect(faults.map(({ column }) => column)).toContain('area (mm2)');
    expect(faults.map(({ column }) => column)).toContain('mass (kg)');
  });
});

describe('chemicals', () => {
  it('come with an assay in per cent, hazards in words and a price', async () => {
    const text =
      'code;name;solute;form;assay (%);hazards;price per kg\n' +
      'KOH-90;Flake;KOH;solid;90;corrosive;2,40\n' +
      'X;Salt;;powder;99;;\n';
    const { faults } = await preview('chemicals', text, { decimal: 'comma' });
    expect(faults.map(({ line, column }) => [line, column])).toEqual([[3, 'form']]);
    const good = await bring('chemicals', text.split('\n').slice(0, 2).join('\n'), { decimal: 'comma' });
    expect(good.statusCode, good.body).toBe(201);
    const [row] = await db.prisma.chemical.findMany();
    expect(row).toMatchObject({ code: 'KOH-90', assayMassFraction: 0.9, hazards: ['corrosive'] });
    expect(row?.pricePerKg?.toFixed(2)).toBe('2.40');
  });
});

it('whoever may not write a record imports none, and the template is understood as it is', async () => {
  const operator = await as('operator');
  const payload = bodyOf('customers', 'name,currency\nA,EUR\n');
  for (const url of ['/api/imports/customers', '/api/imports/customers/preview'])
    expect((await operator({ method: 'POST', url, payload })).statusCode).toBe(403);
  for (const kind of ['customers', 'parts', 'materials', 'chemicals'] as const) {
    const template = await owner({ url: `/api/imports/${kind}/template.csv` });
    for (const head of template.body.trim().split(',')) expect(matchHead(kind, head), head).not.toBeNull();
  }
});

it('two hundred lines are stored in one piece, and more than a thousand come in parts', async () => {
  const table = (called: string, count: number) =>
    ['name,currency', ...Array.from({ length: count }, (_, index) => `${called} ${index},EUR`)].join('\n');
  expect((await bring('customers', table('Customer', 200))).json()).toEqual({ records: 200, leftOut: 0 });
  expect((await bring('customers', table('Other', 1001))).statusCode).toBe(422);
}, 60_000);
