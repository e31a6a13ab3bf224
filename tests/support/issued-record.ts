import type {
  BathChart,
  ColourStandard,
  ExchangeRate,
  LotSummary,
  Order,
  ParkedSignOff,
  Quotation,
} from '@huelot/contracts';
import { expect } from 'vitest';
import { issuedLab } from './issued-lab.ts';
import type { Masters } from './master-edits.ts';
import { good, mainLine, ok, post, reading, signOff } from './main-line.ts';

const conditions = { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 };

/** The part of the shop asks for a colour from now on. */
async function agreeOnColour({ db, shop, estimator, quality }: Awaited<ReturnType<typeof mainLine>>) {
  const figures = { target: { L: 40, a: 8, b: -30 }, light: null, dark: null, conditions };
  const { standardId, revisionId, version } = await ok<ColourStandard>(
    post(estimator, '/colour-standards', {
      ...{ code: 'BLUE-1', customerId: null, name: 'Peacock blue', ...figures, instrument: 'SP-1' },
      ...{ tolerance: { from: 'target', deltaE: 3, kL: 1, kC: 1, kH: 1 }, sample: null, grade: 'measured' },
      ...{ agreedBy: '', agreedOn: null, expiresOn: null, photoId: null, notes: '', changeNote: '' },
    }),
    201,
  );
  await ok(
    post(quality, `/colour-standard-revisions/${revisionId}/approve`, {}, { 'if-match': `"${version}"` }),
  );
  await db.prisma.colourStandardConfirmation.create({
    data: { revisionId, grounds: 'the drawing', personId: shop.authorId },
  });
  await db.prisma.part.update({ where: { id: shop.partId }, data: { colourStandardId: standardId } });
}

/** A plan of one characteristic, its inspection of a lot, and a move of severity. */
async function inspectLot({ db, shop }: Awaited<ReturnType<typeof mainLine>>, lotId: number): Promise<void> {
  const { authorId, partId, customerId } = shop;
  const plan = await db.prisma.inspectionPlan.create({
    data: {
      ...{ partId, revision: 1, note: 'as ordered', setById: authorId },
      characteristics: {
        create: { position: 1, name: 'Film', kind: 'visual', method: 'by eye', acceptance: 'no powder' },
      },
    },
    include: { characteristics: true },
  });
  const memory = { customerId, partNumber: 'P-1', name: 'Film' };
  const { travelerId } = await db.prisma.finalCheck.findFirstOrThrow({ where: { lotId } });
  const inspection = await db.prisma.inspection.create({
    data: {
      ...{ ...memory, lotId, travelerId, characteristicId: plan.characteristics[0]?.id ?? 0, lotSize: 24 },
      ...{
        sampleSize: 24,
        ac: 0,
        re: 1,
        inspected: 24,
        found: 1,
        verdict: 'accepted',
        inspectedById: authorId,
      },
    },
  });
  await db.prisma.inspectionSeverity.create({
    data: {
      ...{
        ...memory,
        was: 'normal',
        severity: 'tightened',
        because: '2 of 5 or fewer consecutive lots rejected',
      },
      ...{ inspectionId: inspection.id, byId: authorId },
    },
  });
}

/** A nonconformance with an entry and a disposition of one of its pieces. */
async function openNonconformance(
  { db, shop }: Awaited<ReturnType<typeof mainLine>>,
  lotId: number,
): Promise<void> {
  const { authorId } = shop;
  const found = { foundOn: new Date('2026-03-02'), foundAt: 'inspection', foundBy: 'Quality' };
  const { id: nonconformanceId } = await db.prisma.nonconformance.create({
    data: {
      ...{ ...found, number: 'NC-1', lotId, piecesAffected: 2, piecesInspected: 24, fault: 'uneven' },
      ...{ description: 'streaks', requirement: 'even to the eye', containment: 'set aside' },
      ...{ record: {}, openedById: authorId },
    },
  });
  await db.prisma.nonconformanceEntry.create({
    data: { nonconformanceId, kind: 'cause', text: 'too fast out of the bath', byId: authorId },
  });
  await db.prisma.nonconformanceDisposition.create({
    data: {
      ...{ nonconformanceId, lotId, disposition: 'use-as-is', pieces: 1, takenFrom: 'rejected' },
      ...{ authority: 'head of quality', reason: 'on the hidden side', decidedById: authorId },
    },
  });
}

/** An impact assessment of a lot, judged, told and closed, and an offer that was dismissed. */
async function assessImpact(
  { db, shop }: Awaited<ReturnType<typeof mainLine>>,
  lotId: number,
): Promise<void> {
  const { authorId } = shop;
  const { id: assessmentId } = await db.prisma.impactAssessment.create({
    data: {
      ...{ number: 'IA-1', reason: 'thermometer read low', dueOn: new Date('2026-03-09') },
      ...{ ownerId: authorId, openedById: authorId },
    },
  });
  await db.prisma.assessmentLot.create({
    data: { assessmentId, lotId, facts: { number: 'L-1' }, why: 'in the same rack', addedById: authorId },
  });
  await db.prisma.assessmentEntry.create({
    data: {
      ...{ assessmentId, kind: 'judgement', lotId, affected: true },
      ...{ text: 'two shades off', byId: authorId },
    },
  });
  await db.prisma.assessmentLetter.create({
    data: {
      ...{ number: 'CL-1', assessmentId, customerId: shop.customerId, facts: {}, found: 'too cold' },
      ...{ asked: 'send them back', jobTitle: 'quality', signedById: authorId },
    },
  });
  await db.prisma.assessmentEntry.create({
    data: { assessmentId, kind: 'closed', text: 'told', byId: authorId },
  });
  await db.prisma.impactAssessment.update({ where: { id: assessmentId }, data: { state: 'closed' } });
  await db.prisma.assessmentDismissal.create({
    data: {
      ...{ causeKind: 'bath-stop', causeId: 1, title: 'a bath was stopped', reason: 'nothing hung in it' },
      dismissedById: authorId,
    },
  });
}
/** A competence that was withdrawn, and a word for what was approved without one. */
async function letWorkOutsideCompetence({ db, shop }: Awaited<ReturnType<typeof mainLine>>): Promise<void> {
  const { authorId } = shop;
  const { id } = await db.prisma.competence.create({
    data: {
      ...{
        personId: authorId,
        activity: 'sign',
        fromOn: new Date('2026-03-02'),
        evidence: 'two weeks beside',
      },
      grantedById: authorId,
    },
  });
  await db.prisma.competence.update({
    where: { id },
    data: { withdrawnById: authorId, withdrawnAt: new Date(), withdrawReason: 'left the line' },
  });
  await db.prisma.competenceOverride.create({
    data: {
      ...{ activity: 'approve', recipeRevisionId: shop.recipeRevisionId, personId: authorId },
      ...{ reason: 'nobody else is here', grantedById: authorId, askedById: authorId },
    },
  });
}

/** The meter of the shop as it was calibrated. */
const calibrateMeter = ({ db, shop }: Awaited<ReturnType<typeof mainLine>>) =>
  db.prisma.instrumentCalibration.create({
    data: {
      ...{ instrumentId: shop.colourMeterId, doneOn: new Date('2026-03-02'), doneBy: 'Lab' },
      ...{ reference: 'white tile', referenceCertificate: 'WT 12', asFound: 'pass', asLeft: 'pass' },
      points: [
        {
          ...{ reference: 95, asFound: 95.1, asLeft: null, tolerance: 0.5 },
          expandedUncertainty: 0.2,
          unit: '',
        },
      ],
      recordedById: shop.authorId,
    },
  });

/** An immersion test that was started, looked at, corrected, interrupted and ended: its key. */
async function exposeSpecimen({ db, shop }: Awaited<ReturnType<typeof mainLine>>): Promise<number> {
  const { authorId } = shop;
  const startedAt = new Date('2026-03-02T08:00:00Z');
  const { id: testId } = await db.prisma.exposureTest.create({
    data: {
      ...{ number: 'ET-1', name: 'bare steel', kind: 'immersion', medium: 'tap water', place: 'the lab' },
      limits: { temperatureC: null, pH: null, collectionMlPerHour: null, saltGPerL: null },
      ...{ lookEveryDays: 1, plannedHours: 240, responsibleId: authorId, createdById: authorId },
    },
  });
  const { id: specimenId } = await db.prisma.exposureSpecimen.create({
    data: {
      ...{ testId, position: 0, mark: 'B1', materialId: shop.materialId, finish: 'bare' },
      ...{ areaMm2: 1000, edgesMasked: false },
    },
  });
  await db.prisma.exposureTest.update({
    where: { id: testId },
    data: { state: 'running', startedAt, startDay: startedAt, startedById: authorId, timeZone: 'UTC' },
  });
  await db.prisma.exposureObservation.create({
    data: {
      ...{ testId, specimenId, seenAt: new Date('2026-03-03T08:00:00Z'), day: new Date('2026-03-03') },
      ...{ verdict: 'stain', takenOut: false, seenById: authorId },
      corrections: {
        create: { verdict: 'first-corrosion', reason: 'rust under it', correctedById: authorId },
      },
    },
  });
  await db.prisma.exposureReading.create({
    data: { testId, readAt: startedAt, temperatureC: 21, readById: authorId },
  });
  await db.prisma.exposureInterruption.create({
    data: {
      ...{ testId, fromAt: new Date('2026-03-04'), toAt: new Date('2026-03-05'), reason: 'moved' },
      ...{ enteredById: authorId, endedById: authorId, endedAt: new Date() },
    },
  });
  const endedAt = new Date('2026-03-06T08:00:00Z');
  const result = { exposedHours: 72, missedLooks: 1, readingsOutside: 0, interruptedHours: 24, groups: [] };
  await db.prisma.exposureTest.update({
    where: { id: testId },
    data: {
      ...{ state: 'ended', endedAt, endDay: endedAt, endedById: authorId, verdict: 'rust' },
      ...{ result, calcVersion: '1' },
    },
  });
  return testId;
}

/**
 * A job from the quotation to a first shipment, with whatever can happen on the way: a hold, a correction, a rework, a new
 * traveler. Returns what the record shows of it, and the living rows that it was made of.
 */
export async function issuedRecord() {
  const line = await mainLine();
  const { db, as, shop, planner, quality, operator } = line;
  await db.prisma.shop.update({
    where: { id: 1 },
    data: { name: 'Row Works', address: '1 Row', contact: 'row@example.com' },
  });
  await db.prisma.customer.update({
    where: { id: shop.customerId },
    data: { addresses: { create: { position: 0, kind: 'billing', lines: '7 Mill Lane' } } },
  });
  await agreeOnColour(line);
  await db.prisma.evidenceException.create({
    data: {
      ...{ place: 'approval', recipeRevisionId: shop.recipeRevisionId, recordNumber: 'R-1 rev 1' },
      ...{ finding: 'No evidence is cited.', reason: 'first article', allowedById: shop.authorId },
      askedById: shop.authorId,
    },
  });
  await db.prisma.enquiry.create({
    data: {
      ...{ number: 'E-1', customerId: shop.customerId, words: 'forty clips', status: 'declined' },
      ...{ ownerId: shop.authorId, createdById: shop.authorId },
      decisions: { create: { status: 'declined', reason: 'too thick', personId: shop.authorId } },
    },
  });
  await db.prisma.polarizationScan.create({
    data: {
      ...{ number: 'PS-1', materialId: shop.materialId, finish: 'bare', specimen: 'B1', medium: 'tap water' },
      ...{ scannedOn: new Date('2026-03-02'), areaMm2: 1000, windowV: 0.01, sternGearyV: 0.026 },
      ...{ equivalentWeight: 27.92, points: [], result: {}, calcVersion: '1', enteredById: shop.authorId },
    },
  });
  await db.prisma.filmMeasurement.create({
    data: {
      ...{ number: 'FM-1', seriesCode: 'ST-1', mark: 'A1', coupon: {}, materialId: shop.materialId },
      ...{ kind: 'cross-section', measuredOn: new Date('2026-03-02'), laboratory: 'the lab', evidence: {} },
      ...{
        result: {},
        thicknessNm: 200,
        standardUncertaintyNm: 8,
        calcVersion: '1',
        enteredById: shop.authorId,
      },
    },
  });
  const exposureTestId = await exposeSpecimen(line);
  await db.prisma.processImport.create({
    data: {
      ...{ recipeId: shop.recipeId, sha256: Buffer.alloc(32), shop: 'Elsewhere', recipe: 'R-1 rev 1' },
      ...{ fingerprint: '0'.repeat(64), exportedAt: new Date(), personId: shop.authorId },
    },
  });
  const [first, second] = (await line.releasedLots()) as [LotSummary, LotSummary];
  const [waiting] = (await line.opened(first.id)).steps;
  await ok(post(operator, `/steps/${waiting?.id}/in`, { agoS: 0 }));
  await ok(post(operator, `/steps/${waiting?.id}/out`, { agoS: 0 }));
  await line.signAll(first.id);
  const [signed] = await db.prisma.stepSignOff.findMany({
    where: { lotId: first.id },
    orderBy: { id: 'asc' },
  });
  await ok(
    post(quality, `/sign-offs/${signed?.id}/corrections`, {
      quantity: 'temperatureC',
      newValue: 61,
      reason: 'misread',
    }),
    201,
  );
  const read = {
    lab: { L: 40, a: 8, b: -30 },
    spectrum: null,
    instrumentId: shop.colourMeterId,
    instrument: '',
    expandedUncertainty: 0.5,
  };
  await ok(
    post(operator, `/lots/${first.id}/colour-readings`, {
      ...{ fileName: '', second: null },
      readings: [
        {
          ...{ zone: '', place: 'front', spot: null, grade: 'measured', conditions, ...read },
          ...{ outcome: null, confirmed: false, note: '' },
        },
      ],
    }),
    201,
  );
  const check = { acceptedCount: 20, rejectedCount: 1, reworkCount: 3, reason: 'shade', notes: '' };
  await ok(post(quality, `/lots/${first.id}/final-check`, check), 201);
  await ok(
    post(planner, `/lots/${first.id}/shipments`, { quantity: 5, carrier: 'van', document: 'D-1', notes: '' }),
    201,
  );
  const { id: shipmentId } = await db.prisma.shipment.findFirstOrThrow({ where: { lotId: first.id } });
  await db.prisma.certificate.create({
    data: {
      ...{ number: 'CC-1', revision: 1, shipmentId, lotId: first.id, facts: {}, statement: 'as ordered' },
      ...{ jobTitle: 'quality', checkCode: '0000-0000-0000-0001', signedById: shop.authorId },
    },
  });
  const note = await db.prisma.deliveryNote.create({
    data: { number: 'DN-1', facts: { customer: {}, orders: [], packages: [] }, issuedById: shop.authorId },
  });
  await db.prisma.deliveryLine.create({ data: { noteId: note.id, shipmentId } });
  await db.prisma.goodsReturn.create({
    data: {
      ...{ noteId: note.id, shipmentId, quantity: 1, returnedOn: new Date('2026-03-31') },
      ...{ reason: 'stains', recordedById: shop.authorId },
    },
  });
  await openNonconformance(line, first.id);
  await assessImpact(line, first.id);
  await calibrateMeter(line);
  await letWorkOutsideCompetence(line);
  const orderLine = await db.prisma.orderLine.findFirstOrThrow();
  const invoice = await db.prisma.invoice.create({
    data: {
      ...{ kind: 'invoice', customerId: shop.customerId, currency: 'EUR', paymentDays: 30 },
      createdById: shop.authorId,
    },
  });
  await db.prisma.invoiceLine.create({
    data: {
      ...{ invoiceId: invoice.id, position: 1, kind: 'one-off', orderLineId: orderLine.id, oneOffIndex: 0 },
      ...{ label: 'tooling', quantity: 1, basisTotal: 5, basisQuantity: 1, net: 5 },
    },
  });
  await db.prisma.invoice.update({
    where: { id: invoice.id },
    data: {
      ...{ number: 'INV-1', taxRatePercent: 0, net: 5, tax: 0, gross: 5, facts: { customer: {}, lines: [] } },
      ...{ issuedOn: new Date('2026-03-31'), dueOn: new Date('2026-04-30') },
      ...{ issuedById: shop.authorId, issuedAt: new Date() },
    },
  });
  await db.prisma.payment.create({
    data: {
      ...{ invoiceId: invoice.id, amount: 5, paidOn: new Date('2026-04-01') },
      recordedById: shop.authorId,
    },
  });
  await inspectLot(line, first.id);
  const traveler = await line.opened(second.id);
  await ok(
    post(
      operator,
      `/steps/${traveler.steps[0]?.id}/sign-off`,
      signOff(24, good[1] ?? [reading('temperatureC', 60)]),
    ),
    201,
  );
  await ok(
    post(planner, `/lots/${second.id}/travelers`, {
      recipeRevisionId: null,
      supplyId: shop.supplyId,
      tanks: shop.tanks,
      changeNote: 'again',
    }),
    201,
  );
  const [, next] = (await line.opened(second.id)).steps;
  const bath = await db.prisma.bath.findFirstOrThrow({ where: { tankId: next?.tank?.id ?? 0 } });
  const keeper = await as('lab');
  await ok(post(keeper, `/baths/${bath.id}/holds`, { additionId: null, reason: 'cloudy' }), 201);
  await ok(post(quality, `/steps/${next?.id}/overrides`, { reason: 'rinsed by hand', by: null }), 201);
  await ok(post(quality, `/lots/${second.id}/hold`, { reason: 'look first' }), 201);
  const kept = signOff(24, good[2] ?? [], { personId: operator.personId });
  const { parked } = await ok<{ parked: ParkedSignOff }>(
    post(operator, `/steps/${next?.id}/parked-sign-offs`, kept),
    201,
  );
  await ok(
    post(quality, `/parked-sign-offs/${parked.id}/settle`, { decision: 'set-aside', reason: 'look first' }),
  );
  await ok(post(quality, `/lots/${second.id}/hold/release`, { reason: 'looked' }));
  await ok(post(quality, `/lots/${second.id}/hold`, { reason: 'look again' }), 201);

  const order = await ok<Order>(planner({ url: `/api/orders/${first.orderId}` }));
  const quotationId = order.quotation?.id as number;
  const owner = await as('owner');
  const lab = await issuedLab(line);
  const travelers = await db.prisma.traveler.findMany({ orderBy: { id: 'asc' } });
  const addresses = [
    `/quotations/${quotationId}?revision=1`,
    ...[
      '/quotations',
      '/quotations.csv',
      '/orders',
      '/orders.csv',
      '/lots',
      '/lots.csv',
      '/trace',
      '/trace.csv',
    ],
    `/orders/${order.id}`,
    ...[first, second].flatMap(({ id }) => [
      `/lots/${id}`,
      `/lots/${id}/colour`,
      `/lots/${id}/trace`,
      `/tankside/lots/${id}`,
    ]),
    ...travelers.flatMap(({ id }) => [
      `/travelers/${id}`,
      `/travelers/${id}/pdf`,
      `/travelers/${id}/papers`,
      `/travelers/${id}/papers/1/pdf`,
    ]),
    `/quotations/${quotationId}/revisions/1/pdf`,
    `/quotations/${quotationId}/papers`,
    ...[first, second].map(({ id }) => `/parked-sign-offs?lotId=${id}`),
    `/recipe-revisions/${shop.recipeRevisionId}`,
    `/rate-cards/${shop.rateCardId}`,
    `/exposure-tests/${exposureTestId}`,
    ...lab.addresses,
  ];

  /** What the record shows, to the byte, by its address: all of it, unless some addresses are named. */
  async function shown(items: readonly string[] = addresses): Promise<Record<string, string>> {
    const all: Record<string, string> = {};
    for (const address of items) {
      const reply = await owner({ url: `/api${address}` });
      if (reply.statusCode !== 200) throw new Error(`${address}: ${reply.statusCode} ${reply.body}`);
      all[address] = address.includes('/bath-chart')
        ? issuedOfChart(reply.json<BathChart>())
        : reply.rawPayload.toString('latin1');
    }
    return all;
  }
  const people = await db.prisma.person.findMany({ select: { id: true } });
  const recipe = await db.prisma.recipe.findFirstOrThrow();
  const own: Masters = {
    '/customers/:id': [shop.customerId],
    '/parts/:id': [shop.partId],
    '/materials/:id': [shop.materialId],
    '/tanks/:id': shop.tanks.map(({ tankId }) => tankId),
    '/racks/:id': [shop.rackId],
    '/power-supplies/:id': [shop.supplyId],
    '/recipes/:id': [recipe.id],
    '/people/:id': people.map(({ id }) => id),
    '/shop': [''],
  };
  /** A rate of exchange, where an edit gave the customer another currency than the shop's. */
  async function rateForCustomer(): Promise<number | null> {
    const [{ currency: base }, { currency }] = await Promise.all([
      db.prisma.shop.findUniqueOrThrow({ where: { id: 1 } }),
      db.prisma.customer.findUniqueOrThrow({ where: { id: shop.customerId } }),
    ]);
    if (currency === base) return null;
    const facts = { currency, rate: '0.9', day: '2026-01-02', source: 'a bank’s list' };
    return (await ok<ExchangeRate>(post(line.estimator, '/exchange-rates', facts), 201)).id;
  }
  return {
    ...line,
    owner,
    quotationId,
    shown,
    /**
     * One more analysis and one more sent quotation, unless the edits made it a job that is not quoted, such as a part whose
     * material is now of another metal: where they are read.
     */
    async issueAgain(): Promise<string[]> {
      const analysis = `/analyses/${(await lab.analyseAgain()).id}`;
      const drafted = await post(line.estimator, '/quotations', {
        customerId: shop.customerId,
        ...line.draft([48, 480]),
        exchangeRateId: await rateForCustomer(),
      });
      if (drafted.statusCode === 422) return [analysis];
      expect(drafted.statusCode, drafted.body).toBe(201);
      const { id, version } = drafted.json<Quotation>();
      const send = (ask: typeof owner, body: object) =>
        post(ask, `/quotations/${id}/send`, body, { 'if-match': `"${version}"` });
      // An edit of the alloy is another alloy, that no evidence proves: an owner answers for it.
      const sent = await send(line.estimator, {});
      if (sent.statusCode === 409) await ok(send(owner, { unproved: { reason: 'edited', by: null } }));
      else expect(sent.statusCode, sent.body).toBe(200);
      return [analysis, `/quotations/${id}`, `/quotations/${id}/revisions/1/pdf`];
    },
    masters: Object.fromEntries(
      [...new Set([...Object.keys(own), ...Object.keys(lab.masters)])].map((path) => [
        path,
        [...(own[path] ?? []), ...((lab.masters as Masters)[path] ?? [])],
      ]),
    ),
  };
}

/** A chart is of a living tank; what was done to it, and who chose the baseline, was signed. */
const issuedOfChart = ({ events, baseline }: BathChart) => JSON.stringify({ events, baseline });
