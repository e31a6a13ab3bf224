import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { pdfFile } from '../../http/pdf.ts';
import { registerPublicRoute, registerRoute } from '../../http/route.ts';
import { idFromCursor, toPage } from '../../kernel/cursor.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { issue, print, readSheet, view, withdraw } from './certificates.ts';
import * as queries from './queries.ts';

export default function certificates(app: FastifyInstance): void {
  const { db, publicUrl } = app;

  registerRoute(app, contract.getCertificateSheet, ({ params }) => readSheet(db, params.id));
  registerRoute(app, contract.issueCertificate, ({ actor, params, body }) =>
    issue(db, { actor, shipmentId: params.id, input: body, publicUrl }),
  );
  registerRoute(app, contract.listCertificates, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readItems(db.execute, { ...asked, after: idFromCursor(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.id] });
    return { items: items.map((row) => ({ ...row, signedAt: row.signedAt.toISOString() })), next };
  });
  registerRoute(app, contract.getCertificate, ({ params }) => view(db, params.id));
  registerRoute(app, contract.printCertificate, async ({ params, reply }) =>
    pdfFile(reply, await print(db, params.id)),
  );
  registerRoute(app, contract.withdrawCertificate, ({ actor, params, body }) =>
    withdraw(db, { actor, id: params.id, reason: body.reason }),
  );
  registerPublicRoute(app, contract.checkCertificate, async ({ params }) =>
    orNotFound(await queries.readByCode(db.execute, params.code), `certificate with code ${params.code}`),
  );
}
