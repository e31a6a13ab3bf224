import type { ExposureTest, NewExposureSpecimen, NewExposureTest, StoredFile } from '@huelot/contracts';
import { endTest, observe, planTest, startTest } from '../../apps/api/src/colour/exposure-tests/index.ts';
import type { Db } from '../../apps/api/src/db/client.ts';
import type { Actor } from '../../apps/api/src/kernel/actor.ts';
import type { TestApp } from './app.ts';
import { post } from './lab.ts';
import { multipart } from './multipart.ts';

type Person = Awaited<ReturnType<TestApp['as']>>;
export const HOUR = 3_600_000;
export const DAY = 24 * HOUR;
export const ago = (ms: number) => new Date(Date.now() - ms).toISOString();

/** The smallest PNG, one pixel; whatever follows its end makes it another file. */
const pixel = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
  'base64',
);
let sent = 0;
export async function sendPicture(ask: Person, content?: Buffer): Promise<number> {
  sent += 1;
  const reply = await ask({
    ...{ method: 'POST', url: '/api/files' },
    ...multipart({
      name: `look-${sent}.png`,
      content: content ?? Buffer.concat([pixel, Buffer.from([sent])]),
    }),
  });
  return reply.json<StoredFile>().id;
}
export const samePixel = pixel;

/** Plans immersions of bare and blackened steel for one person of the lab. */
export function exposureBench({ lab, materialId }: { lab: Person; materialId: number }) {
  const specimen = (mark: string, extra: Partial<NewExposureSpecimen> = {}): NewExposureSpecimen => ({
    ...{ mark, finish: 'bare', film: '', protective: '', areaMm2: 2000, edgesMasked: true, note: '' },
    ...{ materialId, recipeRevisionId: null, couponSeriesId: null },
    ...extra,
  });
  const plan = (extra: Partial<NewExposureTest> = {}): NewExposureTest => ({
    ...{ name: 'black against bare', kind: 'immersion', medium: 'tap water', concentrationGPerL: null },
    ...{
      temperatureC: 21,
      place: 'beakers on the bench',
      standard: '',
      lookEveryDays: 1,
      plannedStart: null,
    },
    ...{ plannedHours: 240, note: '', responsibleId: lab.personId },
    limits: { temperatureC: null, pH: null, collectionMlPerHour: null, saltGPerL: null },
    specimens: [specimen('B1'), specimen('C1', { finish: 'coloured', film: 'black' })],
    ...extra,
  });
  const planned = (extra: Partial<NewExposureTest> = {}) =>
    post<ExposureTest>(lab, '/api/exposure-tests', plan(extra));
  const start = ({ id, version }: Pick<ExposureTest, 'id' | 'version'>, startedAt: string) =>
    lab({
      ...{ method: 'POST' as const, url: `/api/exposure-tests/${id}/start`, payload: { startedAt } },
      headers: { 'if-match': `"${version}"` },
    });
  const started = async (extra: Partial<NewExposureTest> = {}, startedAt = ago(5 * HOUR)) =>
    (await start(await planned(extra), startedAt)).json<ExposureTest>();
  const look = (specimenId: number, seen: object = {}, ask: Person = lab) =>
    ask({
      ...{ method: 'POST' as const, url: `/api/exposure-specimens/${specimenId}/observations` },
      payload: {
        ...{ verdict: 'no-change', defectAreaPercent: null, note: '', photoId: null, takenOut: false },
        ...{ seenAt: ago(0), ...seen },
      },
    });
  const read = async (id: number) => (await lab({ url: `/api/exposure-tests/${id}` })).json<ExposureTest>();
  return { specimen, plan, planned, start, started, look, read };
}

/** A test of so many days ago, told through the use cases as it happened. */
export async function pastTest(
  db: Db,
  {
    actor,
    input,
    daysAgo,
    looks,
    endedDaysAgo = null,
  }: {
    actor: Actor;
    input: NewExposureTest;
    daysAgo: number;
    /** Of each specimen by its place: what was seen so many days after the start. */
    looks: readonly Record<number, 'no-change' | 'stain' | 'first-corrosion'>[];
    endedDaysAgo?: number | null;
  },
): Promise<number> {
  // At the same time of the day, so that a day of the shop is a day of the test.
  const begin = Date.now() - daysAgo * DAY;
  const at = (days: number) => new Date(begin + days * DAY);
  const planned = await planTest(db, { actor, input, now: at(0) });
  const { specimens, id } = await startTest(db, {
    ...{ actor, id: planned.id, version: planned.version, startedAt: at(0).toISOString(), now: at(0) },
  });
  for (const [place, seen] of looks.entries())
    for (const [days, verdict] of Object.entries(seen))
      await observe(db, {
        ...{ actor, specimenId: specimens[place]?.id ?? 0, now: at(Number(days)) },
        input: {
          ...{ verdict, defectAreaPercent: null, note: '', photoId: null, takenOut: false },
          seenAt: at(Number(days)).toISOString(),
        },
      });
  if (endedDaysAgo !== null) {
    const end = new Date(Date.now() - endedDaysAgo * DAY);
    await endTest(db, { actor, id, endedAt: end.toISOString(), verdict: 'as it was', now: end });
  }
  return id;
}
