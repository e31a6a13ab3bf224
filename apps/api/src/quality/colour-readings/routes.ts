import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { correctReading } from './correct.ts';
import { previewFile } from './preview.ts';
import { readRule } from './queries.ts';
import { recordReadings } from './record.ts';
import { changeRule } from './rule.ts';
import { searchReadings } from './search.ts';
import { readOfRecipe } from './search-queries.ts';
import { viewLotColour } from './view.ts';

export default function colourReadings(app: FastifyInstance): void {
  const { db } = app;
  registerRoute(app, contract.getLotColour, ({ params }) => viewLotColour(db, params.id));
  registerRoute(app, contract.addColourReadings, ({ actor, params, body }) =>
    recordReadings(db, { actor, lotId: params.id, input: body }),
  );
  registerRoute(app, contract.previewColourFile, ({ params, body }) =>
    previewFile(db, { lotId: params.id, input: body }),
  );
  registerRoute(app, contract.correctColourReading, ({ actor, params, body }) =>
    correctReading(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.getColourRule, () => readRule(db));
  registerRoute(app, contract.updateColourRule, ({ actor, version, body }) =>
    changeRule(db, { actor, version, input: body }),
  );
  registerRoute(app, contract.getColourChart, async ({ params }) => ({
    items: (await readOfRecipe(db.execute, params.id)).reverse(),
  }));
  registerRoute(app, contract.searchColours, ({ query }) => searchReadings(db.execute, query));
}
