import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { readProvenanceOf, writeProvenanceOf } from './provenance.ts';
import { previewProcess, takeOver } from './take-over.ts';
import { exportProcess } from './write.ts';

export default function processFiles(app: FastifyInstance): void {
  const { db } = app;
  const key = app.processKey;

  registerRoute(
    app,
    contract.getProvenance,
    async ({ params }) => (await readProvenanceOf(db, params.id)).provenance,
  );
  registerRoute(app, contract.updateProvenance, ({ actor, params, version, body }) =>
    writeProvenanceOf(db, { actor, revisionId: params.id, version, input: body }),
  );
  const shown = key === null ? null : { publicKey: key.publicKey, fingerprint: key.fingerprint };
  registerRoute(app, contract.getProcessKey, () => Promise.resolve({ key: shown }));
  registerRoute(app, contract.exportProcess, ({ actor, params }) =>
    exportProcess(db, { actor, revisionId: params.id, key }),
  );
  registerRoute(app, contract.readProcessFile, ({ body }) => previewProcess(db, body.text));
  registerRoute(app, contract.importProcess, ({ actor, body }) => takeOver(db, { actor, ...body }));
}
