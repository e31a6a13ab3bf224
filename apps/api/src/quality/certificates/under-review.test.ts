import type { Certificate, ImpactAssessment, Lot } from '@huelot/contracts';
import { beforeAll, expect, it } from 'vitest';
import type { Ask } from '../../../../../tests/support/app.ts';
import { mainLine, ok, post } from '../../../../../tests/support/main-line.ts';

const { app, db, planner, quality, releasedLots, signAll } = await mainLine();
const stranger: Ask = (options) => app.inject(options);

let lotId: number;
let certificate: Certificate;
const now = () => ok<Certificate>(quality({ url: `/api/certificates/${certificate.id}` }));
const checked = async () =>
  (await stranger({ url: `/api/certificate-checks/${certificate.checkCode}` })).json<
    Record<string, unknown>
  >();
const listed = async () =>
  (await ok<{ items: Certificate[] }>(quality({ url: `/api/certificates?lotId=${lotId}` }))).items[0];

beforeAll(async () => {
  const [lot] = await releasedLots();
  lotId = lot?.id ?? 0;
  await signAll(lotId);
  const check = { acceptedCount: 24, rejectedCount: 0, reworkCount: 0, reason: '', notes: '' };
  await ok(post(quality, `/lots/${lotId}/final-check`, check), 201);
  const { shipments } = await ok<Lot>(
    post(planner, `/lots/${lotId}/shipments`, { quantity: 20, carrier: '', document: '', notes: '' }),
    201,
  );
  const body = { statement: 'Done as ordered.', deviations: '', jobTitle: 'Quality', replaces: null };
  certificate = await ok<Certificate>(
    post(quality, `/shipments/${shipments[0]?.id}/certificates`, body),
    201,
  );
});

it('a reading was corrected after its certificate was signed, and the copy went on standing without a word', async () => {
  expect([(await now()).underReview, (await checked())['underReview']]).toEqual([false, false]);
  const signOff = await db.prisma.stepSignOff.findFirstOrThrow({
    where: { lotId, readings: { some: { quantity: 'voltageV' } } },
  });
  const correction = { quantity: 'voltageV', newValue: 31, reason: 'read off the wrong display' };
  await ok(post(quality, `/sign-offs/${signOff.id}/corrections`, correction), 201);
  const { state, underReview, since } = await now();
  expect([state, underReview, since.length]).toEqual(['stands', true, 1]);
  expect(since[0]).toMatchObject({ reason: 'read off the wrong display' });
  expect((await listed())?.underReview).toBe(true);
  // Whoever holds a copy learns that it is under review, and nothing of why.
  const told = await checked();
  expect(told['underReview']).toBe(true);
  expect(Object.keys(told).toSorted()).toEqual(['number', 'revision', 'sha256', 'state', 'underReview']);
});

it('its lot was judged affected, and then judged again', async () => {
  const { id } = await ok<ImpactAssessment>(
    post(quality, '/impact-assessments', {
      ...{ about: null, from: null, to: null, cause: null, reason: 'thermometer read low' },
      ...{ ownerId: quality.personId, dueOn: '2099-01-01' },
    }),
    201,
  );
  const { number } = await db.prisma.lot.findUniqueOrThrow({ where: { id: lotId } });
  await ok(post(quality, `/impact-assessments/${id}/lots`, { lotNumber: number, why: 'same day' }), 201);
  const judge = (affected: boolean) =>
    ok(
      post(quality, `/impact-assessments/${id}/judgements`, { lotIds: [lotId], affected, text: 'seen' }),
      201,
    );
  await judge(true);
  expect((await now()).since.map(({ what }) => what)).toContain('its lot was judged affected in IA-00001');
  await judge(false);
  expect((await now()).since).toHaveLength(1);
});

it('a certificate that was withdrawn is not under review any more', async () => {
  await ok(post(quality, `/certificates/${certificate.id}/withdrawal`, { reason: 'shade' }));
  const { underReview, since } = await now();
  expect([underReview, since.length, (await checked())['state']]).toEqual([false, 1, 'withdrawn']);
});
