import * as contract from '@huelot/contracts';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { pdfFile } from '../../http/pdf.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { correctStepCounts } from './correct-counts.ts';
import { correctStepDone } from './correct-done.ts';
import { correctReadings } from './correct.ts';
import { permit } from './override.ts';
import { listPapers, printTraveler, readIssue } from './paper.ts';
import { settle, signOrPark } from './park.ts';
import { listParked } from './parked-queries.ts';
import * as queries from './queries.ts';
import { signOff, type CheckColour } from './sign.ts';
import { allowUnproved } from './sign-evidence.ts';
import { tankSearch } from './tank-search.ts';
import { keepDraft, setBack, takeIn, takeOut } from './step-run.ts';

/** What the clock of the tablet showed while it sent; null where it said nothing readable. */
function sentAtOf(request: FastifyRequest): Date | null {
  const text = request.headers[contract.sentAtHeader];
  const sentAt = new Date(typeof text === 'string' ? text : Number.NaN);
  return Number.isNaN(sentAt.getTime()) ? null : sentAt;
}

/** `checkColour` asks the colour readings that stand in the wing above. */
export default function travelers(app: FastifyInstance, { checkColour }: { checkColour: CheckColour }): void {
  const { db } = app;
  registerRoute(app, contract.getTraveler, async ({ params }) =>
    orNotFound(await queries.readTraveler(db.execute, params.id), `traveler ${params.id}`),
  );
  registerRoute(app, contract.findTraveler, async ({ params }) => {
    const revisions = await queries.readTravelerByNumber(db.execute, params.number);
    const printed = orNotFound(
      revisions.find(({ revision }) => revision === params.revision),
      `traveler ${params.number} revision ${params.revision}`,
    );
    const current = revisions.find(({ status }) => status === 'issued') ?? revisions.at(-1);
    return {
      traveler: printed,
      current: current === undefined ? null : { id: current.id, revision: current.revision },
    };
  });
  registerRoute(app, contract.getTanksideLot, async ({ params }) =>
    orNotFound(await queries.readCurrentTraveler(db.execute, params.id), `traveler of lot ${params.id}`),
  );
  registerRoute(app, contract.listReadySteps, async ({ query }) => ({
    items: await queries.readReadySteps(db.execute, {
      tankId: query.tankId,
      ...tankSearch(query.search ?? ''),
    }),
  }));
  registerRoute(app, contract.signStep, ({ actor, params, body, request }) =>
    signOff(db, { actor, stepId: params.id, input: body, sentAt: sentAtOf(request), checkColour }),
  );
  registerRoute(app, contract.parkSignOff, ({ actor, params, body, request }) =>
    signOrPark(db, { actor, stepId: params.id, input: body, sentAt: sentAtOf(request), checkColour }),
  );
  registerRoute(app, contract.listParkedSignOffs, async ({ query }) => ({
    items: await listParked(db.execute, query),
  }));
  registerRoute(app, contract.settleParkedSignOff, ({ actor, params, body }) =>
    settle(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.permitStep, ({ actor, params, body }) =>
    permit(db, { actor, stepId: params.id, input: body }),
  );
  registerRoute(app, contract.allowUnprovedStep, ({ actor, params, body }) =>
    allowUnproved(db, { actor, stepId: params.id, input: body }),
  );
  registerRoute(app, contract.takeStepIn, ({ actor, params, body }) =>
    takeIn(db, { actor, stepId: params.id, ...body }),
  );
  registerRoute(app, contract.takeStepOut, ({ actor, params, body }) =>
    takeOut(db, { actor, stepId: params.id, ...body }),
  );
  registerRoute(app, contract.setStepBack, ({ actor, params }) => setBack(db, { actor, stepId: params.id }));
  registerRoute(app, contract.keepStepDraft, async ({ actor, params, body }) => {
    await keepDraft(db, { actor, stepId: params.id, draft: body });
    return {};
  });
  registerRoute(app, contract.correctCounts, ({ actor, params, body }) =>
    correctStepCounts(db, { actor, signOffId: params.id, input: body }),
  );
  registerRoute(app, contract.correctSignOff, ({ actor, params, body }) =>
    correctStepDone(db, { actor, signOffId: params.id, input: body }),
  );
  registerRoute(app, contract.correctReading, ({ actor, params, body }) =>
    correctReadings(db, { actor, signOffId: params.id, input: body }),
  );

  registerRoute(app, contract.printTraveler, async ({ actor, params: { id }, reply }) =>
    pdfFile(reply, await printTraveler(db, { actor, id, publicUrl: app.publicUrl })),
  );
  registerRoute(app, contract.listTravelerPapers, ({ params }) => listPapers(db, params.id));
  registerRoute(app, contract.printTravelerIssue, async ({ params: { id, issue }, reply }) =>
    pdfFile(reply, await readIssue(db, { id, issue })),
  );
}
