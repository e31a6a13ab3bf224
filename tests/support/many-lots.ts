import { randomUUID } from 'node:crypto';
import type { Order, Quotation, Role } from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import type { Db } from '../../apps/api/src/db/client.ts';
import { addPerson } from '../../apps/api/src/core/people/queries.ts';
import { openSignIn } from '../../apps/api/src/core/people/sign-in.ts';
import { equipShop } from './shop.ts';

/** A sign-off of one first step, as a browser sends it. */
export interface SignOff {
  path: string;
  key: string;
  body: string;
}
export interface Floor {
  /** The operator's sign-in. */
  cookie: string;
  /** The estimator's, who keeps customers and drawings. */
  estimatorCookie: string;
  lotPaths: string[];
  /** The first step of each lot, in the order of the lots. */
  signOffs: SignOff[];
  /** A lot beside them that is coloured, whose part asks for a colour, and what it is read with. */
  coloured: { lotId: number; colourMeterId: number };
}

/** One order of single pieces, each its own lot with a traveler: enough first steps for everybody to sign. */
export async function releaseManyLots(
  app: FastifyInstance,
  { db, lots }: { db: Db; lots: number },
): Promise<Floor> {
  const shop = await equipShop(db);
  await askForColour(db, shop.partId);
  // One beside them, to be coloured.
  const pieces = lots + 1;
  const [estimator, planner, cookie] = await Promise.all(
    (['estimator', 'planner', 'operator'] as const).map((role) => signIn(db, role)),
  );
  const send = sender(app);
  const quotation = await send<Quotation>(estimator, {
    path: '/api/quotations',
    body: {
      customerId: shop.customerId,
      ...terms,
      rateCardId: shop.rateCardId,
      lines: [
        {
          partId: shop.partId,
          recipeRevisionId: shop.recipeRevisionId,
          rackId: shop.rackId,
          supplyId: shop.supplyId,
          quantities: [pieces],
          options,
        },
      ],
    },
  });
  const sent = await send<Quotation>(estimator, {
    path: `/api/quotations/${quotation.id}/send`,
    body: {},
    version: quotation.version,
  });
  const [priced] = sent.shown.lines;
  const order = await send<Order>(planner, {
    path: `/api/quotations/${quotation.id}/accept`,
    body: {
      customerOrderNumber: 'PO 1',
      dueDate: '2099-01-15',
      lines: [{ lineId: priced?.id, breakId: priced?.breaks[0]?.id }],
    },
  });
  const [line] = order.lines;
  if (line === undefined) throw new Error('the order has no line');
  await send(planner, {
    path: `/api/order-lines/${line.id}/receipt`,
    body: { count: pieces, reason: '' },
    version: line.version,
  });
  for (let released = 0; released < pieces; released += 100) {
    await send(planner, {
      path: `/api/order-lines/${line.id}/release`,
      body: {
        rackId: shop.rackId,
        supplyId: shop.supplyId,
        tanks: shop.tanks,
        loads: Array.from({ length: Math.min(100, pieces - released) }, () => 1),
        dueDate: '2099-01-15',
        priority: 0,
      },
    });
  }
  const rows = await db.prisma.lot.findMany({ select: { id: true }, orderBy: { id: 'asc' } });
  const steps = await db.prisma.travelerStep.findMany({
    where: { position: 1 },
    select: { id: true },
    orderBy: { traveler: { lotId: 'asc' } },
  });
  const last = rows.pop()?.id ?? 0;
  steps.pop();
  await colour({ db, send: (path, body) => send(cookie, { path, body }) }, last);
  return {
    coloured: { lotId: last, colourMeterId: shop.colourMeterId },
    cookie: cookie ?? '',
    estimatorCookie: estimator ?? '',
    lotPaths: rows.map(({ id }) => `/api/lots/${id}`),
    signOffs: steps.map(({ id }) => ({
      path: `/api/steps/${id}/sign-off`,
      key: randomUUID(),
      body: JSON.stringify(signOff()),
    })),
  };
}

async function askForColour(db: Db, partId: number): Promise<void> {
  const conditions = { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 };
  const { id: colourStandardId } = await db.prisma.colourStandard.create({
    data: {
      code: 'BLUE-1',
      revisions: {
        create: {
          ...{ revision: 1, status: 'approved', name: 'Blue', grade: 'measured', conditions },
          ...{ target: { L: 40, a: 8, b: -30 }, takenOverFrom: 'the test', approvedAt: new Date() },
          tolerance: { from: 'target', deltaE: 3, kL: 1, kC: 1, kH: 1 },
        },
      },
    },
  });
  await db.prisma.part.update({ where: { id: partId }, data: { colourStandardId } });
}

/** Signs a lot up to its colour step. */
async function colour(
  { db, send }: { db: Db; send: (path: string, body: object) => Promise<unknown> },
  lotId: number,
): Promise<void> {
  const steps = await db.prisma.travelerStep.findMany({
    where: { traveler: { lotId }, position: { lte: 3 } },
    orderBy: { position: 'asc' },
  });
  const readings = [
    [{ quantity: 'temperatureC', value: 60, instrument: '' }],
    [],
    [
      { quantity: 'voltageV', value: 30, instrument: '' },
      { quantity: 'currentA', value: 4, instrument: '' },
    ],
  ];
  for (const [index, { id }] of steps.entries())
    await send(`/api/steps/${id}/sign-off`, { ...signOff(), readings: readings[index] });
}

async function signIn(db: Db, role: Role): Promise<string> {
  const person = await addPerson(db, {
    name: role,
    displayName: role,
    email: null,
    roles: [role],
    passwordHash: null,
  });
  return `huelot=${await openSignIn(db, person, { address: '127.0.0.1', agent: 'bench' })}`;
}

const sender =
  (app: FastifyInstance) =>
  async <Reply>(
    cookie: string | undefined,
    { path, body, version }: { path: string; body: object; version?: number },
  ): Promise<Reply> => {
    const answer = await app.inject({
      method: 'POST',
      url: path,
      payload: body,
      headers: { cookie: cookie ?? '', ...(version === undefined ? {} : { 'if-match': `"${version}"` }) },
    });
    if (answer.statusCode >= 300) throw new Error(`${path}: ${answer.statusCode} ${answer.body}`);
    return answer.json<Reply>();
  };

const terms = {
  contactName: '',
  enquiryReference: '',
  validUntil: '2099-01-01',
  leadTimeDays: 10,
  taxRatePercent: 20,
  terms: '',
  customerNotes: '',
  internalNotes: '',
};
const options = {
  maskingFeatures: 0,
  masking: { timeS: 0, materialCost: 0 },
  labour: { setupS: 2700, rackS: 18, unrackS: 8, inspectS: 10, packS: 6 },
  inspectionLevel: '',
  certificate: false,
  packing: '',
  packingCost: 0,
  expedite: false,
  validatedPieces: null,
  oneOffs: [],
};
const signOff = () => ({
  doneAt: new Date().toISOString(),
  countIn: 1,
  countOut: 1,
  rejectCount: 0,
  readings: [{ quantity: 'temperatureC', value: 60, instrument: '' }],
  reason: '',
  note: '',
  tankId: null,
  supplyId: null,
  signer: null,
  shortTimeReason: 'signed at once by a test',
});
