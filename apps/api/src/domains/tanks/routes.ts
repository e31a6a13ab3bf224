import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile } from '../../http/csv.ts';
import { decodeCursor, toPage } from '../../http/cursor.ts';
import { mount } from '../../http/route.ts';
import { found } from '../../refusal.ts';
import { addSupply, changeSupply, toSupply } from './power-supplies.ts';
import * as queries from './queries.ts';
import { addRack, changeRack, toRack } from './racks.ts';
import { addTank, changeTank, viewTank, viewTanks } from './tanks.ts';

/** A whole list is written out at once: no shop has this many pieces of equipment. */
const everything = 10_000;

const afterCode = (cursor: string | undefined) => {
  const [code] = decodeCursor(cursor, ['string']) ?? [null];
  return typeof code === 'string' ? code : null;
};
const afterPlace = (cursor: string | undefined) => {
  const [lineOrder, code] = decodeCursor(cursor, ['number', 'string']) ?? [];
  return typeof lineOrder === 'number' && typeof code === 'string'
    ? { lineOrder: Math.trunc(Math.min(lineOrder, 1e9)), code }
    : null;
};
const codeOf = ({ code }: { code: string }) => [code];

export default function tanks(app: FastifyInstance): void {
  const { db } = app;

  mount(app, contract.listTanks, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readTanks(db, { ...asked, after: afterPlace(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.lineOrder, row.code] });
    return { items: await viewTanks(db.run, items), next };
  });
  mount(app, contract.exportTanks, async ({ query, reply }) => {
    const rows = await queries.readTanks(db, { ...query, after: null, limit: everything });
    return csvFile(reply, {
      name: 'tanks',
      heads: [
        ...['code', 'name', 'kind', 'contents', 'insideLengthMm', 'insideWidthMm', 'insideDepthMm'],
        ...['workingVolumeL', 'heaterKw', 'coolerKw', 'cover', 'temperatureMinC', 'temperatureMaxC', 'bath'],
      ],
      rows: rows.map((row) => [
        ...[row.code, row.name, row.kind, row.contents],
        ...[row.insideLengthMm, row.insideWidthMm, row.insideDepthMm, row.workingVolumeL],
        ...[row.heaterKw, row.coolerKw, row.cover, row.temperatureMinC, row.temperatureMaxC],
        row.baths[0]?.number ?? null,
      ]),
    });
  });
  mount(app, contract.getTank, async ({ params }) =>
    viewTank(db.run, found(await queries.readTank(db, params.id), `tank ${params.id}`)),
  );
  mount(app, contract.createTank, ({ actor, body }) => addTank(db, { actor, input: body }));
  mount(app, contract.updateTank, ({ actor, params, version, body }) =>
    changeTank(db, { actor, id: params.id, version, input: body }),
  );

  mount(app, contract.listPowerSupplies, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readSupplies(db, { ...asked, after: afterCode(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: codeOf });
    return { items: items.map(toSupply), next };
  });
  mount(app, contract.exportPowerSupplies, async ({ query, reply }) => {
    const rows = await queries.readSupplies(db, { ...query, after: null, limit: everything });
    return csvFile(reply, {
      name: 'power-supplies',
      heads: ['code', 'name', 'maxVoltageV', 'maxCurrentA', 'efficiency', 'tanks'],
      rows: rows.map(({ tanks: reached, ...row }) => [
        ...[row.code, row.name, row.maxVoltageV, row.maxCurrentA, row.efficiency],
        reached.map(({ tank }) => tank.code).join(' '),
      ]),
    });
  });
  mount(app, contract.getPowerSupply, async ({ params }) =>
    toSupply(found(await queries.readSupply(db, params.id), `power supply ${params.id}`)),
  );
  mount(app, contract.createPowerSupply, ({ actor, body }) => addSupply(db, { actor, input: body }));
  mount(app, contract.updatePowerSupply, ({ actor, params, version, body }) =>
    changeSupply(db, { actor, id: params.id, version, input: body }),
  );

  mount(app, contract.listRacks, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readRacks(db, { ...asked, after: afterCode(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: codeOf });
    return { items: items.map(toRack), next };
  });
  mount(app, contract.exportRacks, async ({ query, reply }) => {
    const rows = await queries.readRacks(db, { ...query, after: null, limit: everything });
    return csvFile(reply, {
      name: 'racks',
      heads: [
        ...['code', 'name', 'baseMetal', 'hooks', 'windowWidthMm', 'windowHeightMm', 'layers', 'gapMm'],
        ...['maxLoadKg', 'massKg', 'bareAreaMm2'],
      ],
      rows: rows.map((row) => [
        ...[row.code, row.name, row.baseMetal, row.hooks, row.windowWidthMm, row.windowHeightMm],
        ...[row.layers, row.gapMm, row.maxLoadKg, row.massKg, row.bareAreaMm2],
      ]),
    });
  });
  mount(app, contract.getRack, async ({ params }) =>
    toRack(found(await queries.readRack(db, params.id), `rack ${params.id}`)),
  );
  mount(app, contract.createRack, ({ actor, body }) => addRack(db, { actor, input: body }));
  mount(app, contract.updateRack, ({ actor, params, version, body }) =>
    changeRack(db, { actor, id: params.id, version, input: body }),
  );
}
