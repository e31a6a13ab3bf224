import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { recordCalibration } from './calibrations.ts';
import { addInstrument, changeInstrument, viewInstrument } from './instruments.ts';
import { setPlaces } from './places.ts';
import * as queries from './queries.ts';

const afterCode = (cursor: string | undefined) => {
  const [text] = decodeCursor(cursor, ['string']) ?? [null];
  return typeof text === 'string' ? text : null;
};

export default function instruments(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listInstruments, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readInstruments(db.execute, { ...asked, after: afterCode(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.code] });
    return { items: items.map(queries.toInstrument), next };
  });
  registerRoute(app, contract.getInstrument, ({ params }) => viewInstrument(db, params.id));
  registerRoute(app, contract.createInstrument, ({ actor, body }) =>
    addInstrument(db, { actor, input: body }),
  );
  registerRoute(app, contract.updateInstrument, ({ actor, params, version, body }) =>
    changeInstrument(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.setInstrumentPlaces, ({ actor, params, version, body }) =>
    setPlaces(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.recordInstrumentCalibration, ({ actor, params, body }) =>
    recordCalibration(db, { actor, id: params.id, input: body }),
  );
}
