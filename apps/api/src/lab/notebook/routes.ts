import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { byteOrderMark, csvLine } from '../../http/csv.ts';
import { registerRoute } from '../../http/route.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readBath, readSetupsOf } from '../baths/index.ts';
import { importNotebook, preview, templateHeads } from './import.ts';

export default function notebook(app: FastifyInstance): void {
  const { db } = app;
  registerRoute(app, contract.getNotebookTemplate, async ({ params, reply }) => {
    const bath = orNotFound(await readBath(db.execute, params.id), `bath ${params.id}`);
    const heads = templateHeads((await readSetupsOf(db.execute, [params.id])).get(params.id) ?? null);
    reply
      .type('text/csv; charset=utf-8')
      .header(
        'content-disposition',
        `attachment; filename="${bath.number.replaceAll(/[^\w.-]/g, '_')}-notebook.csv"`,
      );
    return byteOrderMark + csvLine(heads);
  });
  registerRoute(app, contract.previewNotebook, ({ params, body }) =>
    preview(db.execute, { bathId: params.id, input: body }),
  );
  registerRoute(app, contract.importNotebook, ({ actor, params, body }) =>
    importNotebook(db, { actor, bathId: params.id, input: body }),
  );
}
