import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { travelerPdf } from '../../documents/traveler-pdf.ts';
import { mount } from '../../http/route.ts';
import { sendPdf } from '../../http/pdf.ts';
import { found } from '../../refusal.ts';
import { correct } from './correct.ts';
import * as queries from './queries.ts';
import { signOff } from './sign.ts';

/** The traveler on paper; mounted by hand since it answers with a PDF. */
const pdfPath = z.object({ id: contract.PathId });

export default function travelers(app: FastifyInstance): void {
  const { db } = app;
  mount(app, contract.getTraveler, async ({ params }) =>
    found(await queries.readTraveler(db.run, params.id), `traveler ${params.id}`),
  );
  mount(app, contract.findTraveler, async ({ params }) => {
    const revisions = await queries.readTravelerByNumber(db.run, params.number);
    const printed = found(
      revisions.find(({ revision }) => revision === params.revision),
      `traveler ${params.number} revision ${params.revision}`,
    );
    const current = revisions.find(({ status }) => status === 'issued') ?? revisions.at(-1);
    return {
      traveler: printed,
      current: current === undefined ? null : { id: current.id, revision: current.revision },
    };
  });
  mount(app, contract.openLotAtTank, async ({ params }) =>
    found(await queries.readCurrentTraveler(db.run, params.id), `traveler of lot ${params.id}`),
  );
  mount(app, contract.listReadySteps, async ({ query }) => ({
    items: await queries.readReadySteps(db.run, query),
  }));
  mount(app, contract.signStep, ({ actor, params, body, once }) =>
    signOff(db, { actor, stepId: params.id, input: body, once }),
  );
  mount(app, contract.correctReading, ({ actor, params, body, once }) =>
    correct(db, { actor, signOffId: params.id, input: body, once }),
  );

  app.get('/api/travelers/:id/pdf', {
    config: { access: 'lots.read', rateLimit: { max: 120, timeWindow: '1 minute' } },
    schema: { summary: 'A traveler as a PDF with its QR code', tags: ['travelers'], params: pdfPath },
    handler: async (request, reply) => {
      const { id } = pdfPath.parse(request.params);
      const traveler = found(await queries.readTraveler(db.run, id), `traveler ${id}`);
      const shop = await queries.readShopFacts(db.run);
      const actor = found(request.actor, 'sign-in');
      const file = await travelerPdf({
        traveler,
        shopName: shop.name,
        publicUrl: app.publicUrl,
        reader: { units: actor.units, timeZone: shop.timeZone },
        printedBy: actor.displayName,
        printedAt: new Date(),
      });
      return sendPdf(reply, { name: `${traveler.number}-rev-${traveler.revision}.pdf`, file });
    },
  });
}
