import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile } from '../../http/csv.ts';
import { registerRoute } from '../../http/route.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { addSupply, changeSupply, toSupply } from './power-supplies.ts';
import * as queries from './queries.ts';
import { addRack, changeRack, toRack } from './racks.ts';

/** A whole list is written out at once: no shop has this many pieces of equipment. */
const everything = 10_000;

const afterCode = (cursor: string | undefined) => {
  const [code] = decodeCursor(cursor, ['string']) ?? [null];
  return typeof code === 'string' ? code : null;
};
const codeOf = ({ code }: { code: string }) => [code];

export default function equipment(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listPowerSupplies, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readSupplies(db, { ...asked, after: afterCode(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: codeOf });
    return { items: items.map(toSupply), next };
  });
  registerRoute(app, contract.exportPowerSupplies, async ({ query, reply }) => {
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
  registerRoute(app, contract.getPowerSupply, async ({ params }) =>
    toSupply(orNotFound(await queries.readSupply(db, params.id), `power supply ${params.id}`)),
  );
  registerRoute(app, contract.createPowerSupply, ({ actor, body }) => addSupply(db, { actor, input: body }));
  registerRoute(app, contract.updatePowerSupply, ({ actor, params, version, body }) =>
    changeSupply(db, { actor, id: params.id, version, input: body }),
  );

  registerRoute(app, contract.listRacks, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readRacks(db, { ...asked, after: afterCode(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: codeOf });
    return { items: items.map(toRack), next };
  });
  registerRoute(app, contract.exportRacks, async ({ query, reply }) => {
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
  registerRoute(app, contract.getRack, async ({ params }) =>
    toRack(orNotFound(await queries.readRack(db, params.id), `rack ${params.id}`)),
  );
  registerRoute(app, contract.createRack, ({ actor, body }) => addRack(db, { actor, input: body }));
  registerRoute(app, contract.updateRack, ({ actor, params, version, body }) =>
    changeRack(db, { actor, id: params.id, version, input: body }),
  );
}
