import type {
  ColourPoint,
  ColourReading,
  ColourStandard,
  ColourFilePreview,
  Lot,
  LotColour,
  NewColourReading,
} from '@huelot/contracts';
import { deltaE2000, labOfSpectrum } from '@huelot/calc';
import { beforeAll, describe, expect, it } from 'vitest';
import { sql } from '../../db/client.ts';
import { withoutTriggers } from '../../demo/backdate.ts';
import { hashSecret } from '../../core/people/secrets.ts';
import { mainLine, ok, post } from '../../../../../tests/support/main-line.ts';

const { db, as, shop, operator, quality, planner, estimator, releasedLots, signAll } = await mainLine();
const target = { L: 40, a: 8, b: -30 };
const conditions = { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 } as const;

let lotA: number;
let lotB: number;
beforeAll(async () => {
  const standard = await ok<ColourStandard>(
    post(estimator, '/colour-standards', {
      ...{
        code: 'BLUE-1',
        customerId: null,
        name: 'Peacock blue',
        target,
        light: null,
        dark: null,
        conditions,
      },
      ...{ instrument: 'SP-1', tolerance: { from: 'target', deltaE: 3, kL: 1, kC: 1, kH: 1 }, sample: null },
      ...{
        grade: 'measured',
        agreedBy: '',
        agreedOn: null,
        expiresOn: null,
        photoId: null,
        notes: '',
        changeNote: '',
      },
    }),
    201,
  );
  const headers = { 'if-match': `"${standard.version}"` };
  await ok(post(quality, `/colour-standard-revisions/${standard.revisionId}/approve`, {}, headers));
  await db.prisma.part.update({
    where: { id: shop.partId },
    data: { colourStandardId: standard.standardId },
  });
  const [first, second] = await releasedLots();
  [lotA, lotB] = [first?.id ?? 0, second?.id ?? 0];
});

/** Another finished lot of the part that asks for the colour. */
const finishedLot = async () => {
  const [lot] = await releasedLots();
  await signAll(lot?.id ?? 0);
  return lot?.id ?? 0;
};
const reading = (extra: Partial<NewColourReading> = {}): NewColourReading => ({
  ...{
    zone: '',
    place: 'blade, left',
    spot: null,
    grade: 'measured',
    lab: target,
    spectrum: null,
    conditions,
  },
  ...{
    instrumentId: shop.colourMeterId,
    instrument: '',
    expandedUncertainty: 0.5,
    outcome: null,
    confirmed: false,
    note: '',
  },
  ...extra,
});
const body = (readings: NewColourReading[], extra: object = {}) => ({
  readings,
  fileName: '',
  second: null,
  ...extra,
});
const add = (lotId: number, ...readings: NewColourReading[]) =>
  post(operator, `/lots/${lotId}/colour-readings`, body(readings));
const added = (lotId: number, ...readings: NewColourReading[]) => ok<LotColour>(add(lotId, ...readings), 201);
const colourOf = (lotId: number) => ok<LotColour>(operator({ url: `/api/lots/${lotId}/colour` }));
const lotOf = (lotId: number) => ok<Lot>(operator({ url: `/api/lots/${lotId}` }));
const accept = (lotId: number, acceptedCount = 24) =>
  post(quality, `/lots/${lotId}/final-check`, {
    ...{ acceptedCount, rejectedCount: 24 - acceptedCount, reworkCount: 0 },
    ...{ reason: acceptedCount < 24 ? 'stained' : '', notes: '' },
  });
const newest = ({ readings }: LotColour) => readings[0] as ColourReading;
const paths = (reply: { json: <T>() => T }) =>
  (reply.json<{ issues?: { path: string }[] }>().issues ?? []).map(({ path }) => path);

describe('before the colour step', () => {
  it('a reading was booked on the wrong lot, one that had no colour yet', async () => {
    const reply = await add(lotA, reading());
    expect(reply.statusCode).toBe(409);
    expect(reply.body).toContain('Is it this lot?');
    expect((await colourOf(lotA)).readings).toEqual([]);
  });
});

describe('a finished lot', () => {
  it('dE 5.5 on a tolerance of 3 went out: it holds the lot by itself, with the figures as the reason', async () => {
    const lotId = await finishedLot();
    const colour = await added(lotId, reading(), reading({ place: 'back', lab: { L: 46.1, a: 8, b: -30 } }));
    expect(newest(colour)).toMatchObject({ verdict: 'hold', place: 'back' });
    expect(newest(colour).judged?.deltaE).toBeCloseTo(5.5, 0);
    const lot = await lotOf(lotId);
    expect(lot.held).toBe(true);
    expect(lot.holds[0]?.reason).toMatch(
      /back: dE 5\.\d from BLUE-1 revision 1, limit 3 \(dL \+6\.1, da \+0\.0, db \+0\.0\)/,
    );
    expect((await accept(lotId)).json()).toMatchObject({ code: 'on-hold' });
    // The end of the hold is somebody's word; then the lot has been read and may go on.
    await ok(post(quality, `/lots/${lotId}/hold/release`, { reason: 'customer agreed by letter' }));
    await ok(accept(lotId), 201);
  });

  it('a lot whose part asks for a colour was accepted without a reading', async () => {
    const lotId = await finishedLot();
    expect((await colourOf(lotId)).missing).toContain('BLUE-1');
    const reply = await accept(lotId);
    expect(reply.statusCode).toBe(409);
    expect(paths(reply)).toEqual(['acceptedCount']);
    // A photo or a word decides nothing.
    const lower = { conditions: null, instrumentId: null, expandedUncertainty: null };
    const colour = await added(
      lotId,
      reading({ ...lower, grade: 'photo' }),
      reading({ ...lower, grade: 'word', lab: null, note: 'deep blue' }),
    );
    expect(colour.readings.map(({ verdict }) => verdict)).toEqual([null, null]);
    expect((await accept(lotId)).statusCode).toBe(409);
    expect((await added(lotId, reading())).missing).toBe('');
    await ok(accept(lotId), 201);
  });

  it('pieces that are all rejected need no reading', async () => {
    await ok(accept(await finishedLot(), 0), 201);
  });

  it('pieces were accepted after rework on readings from before it', async () => {
    const lotId = await finishedLot();
    await added(lotId, reading());
    const rework = { acceptedCount: 0, rejectedCount: 0, reworkCount: 24, reason: 'stained', notes: '' };
    await ok(post(quality, `/lots/${lotId}/final-check`, rework), 201);
    await signAll(lotId);
    const reply = await accept(lotId);
    expect(reply.statusCode).toBe(409);
    expect(reply.body).toContain('since its rework');
    await added(lotId, reading());
    await ok(accept(lotId), 201);
  });

  it('the guard band warns and does not hold; the rule stays with the reading when the shop changes it', async () => {
    const lotId = await finishedLot();
    const near = reading({ lab: { L: 43, a: 8, b: -30 } });
    const before = newest(await added(lotId, near));
    expect(before).toMatchObject({
      verdict: 'warn',
      judged: { limit: 3, guardFactor: 1, acceptanceLimit: 2.5 },
    });
    const owner = await as('owner');
    const rule = await ok<{ version: number }>(owner({ url: '/api/colour-rule' }));
    const change = (guardFactor: number, version = rule.version) =>
      owner({
        ...{ method: 'PUT' as const, url: '/api/colour-rule', payload: { guardFactor } },
        headers: { 'if-match': `"${version}"` },
      });
    await ok(change(0));
    expect((await change(0.5)).statusCode).toBe(412);
    expect((await change(4)).statusCode).toBe(422);
    const colour = await added(lotId, near);
    expect(newest(colour)).toMatchObject({ verdict: 'pass', judged: { guardFactor: 0, acceptanceLimit: 3 } });
    expect(colour.readings[1]).toEqual(before);
    await ok(change(1, rule.version + 1));
    expect((await lotOf(lotId)).held).toBe(false);
  });

  it('a slipped decimal sign held a good lot', async () => {
    const lotId = await finishedLot();
    const slipped = { ...target, L: 4 };
    const reply = await add(lotId, reading(), reading({ lab: slipped }));
    expect(reply.statusCode).toBe(422);
    expect(paths(reply)).toEqual(['readings.1.confirmed']);
    expect(reply.body).toContain('decimal sign');
    expect((await colourOf(lotId)).readings).toEqual([]);
    expect((await lotOf(lotId)).held).toBe(false);
    expect(newest(await added(lotId, reading({ lab: slipped, confirmed: true }))).verdict).toBe('hold');
  });

  it('two people at once lost a reading, or held a lot twice for one', async () => {
    const lotId = await finishedLot();
    const far = { L: 45, a: 8, b: -30 };
    const replies = await Promise.all([
      ...[1, 2, 3].map((n) => add(lotId, reading({ place: `A${n}` }))),
      add(lotId, reading({ place: 'B', lab: far })),
    ]);
    expect(replies.map(({ statusCode }) => statusCode)).toEqual([201, 201, 201, 201]);
    const { readings } = await colourOf(lotId);
    expect(readings.map(({ place }) => place).sort()).toEqual(['A1', 'A2', 'A3', 'B']);
    expect((await lotOf(lotId)).holds).toHaveLength(1);
  });

  it.each([
    [
      'figures of another illuminant',
      { conditions: { ...conditions, illuminant: 'D50' } },
      'conditions.illuminant',
    ],
    [
      'figures of another observer',
      { conditions: { ...conditions, observerDeg: 10 } },
      'conditions.observerDeg',
    ],
    ['another geometry', { conditions: { ...conditions, geometry: '45-0' } }, 'conditions.geometry'],
    ['a reading without uncertainty', { expandedUncertainty: null }, 'expandedUncertainty'],
    ['an uncertainty of nothing', { expandedUncertainty: 0 }, 'expandedUncertainty'],
    ['no instrument', { instrumentId: null }, 'instrumentId'],
    ['an instrument in words', { instrumentId: null, instrument: 'SP-1' }, 'instrumentId'],
    ['an instrument of the lab and another', { instrument: 'SP-2' }, 'instrument'],
    ['an instrument that nobody has', { instrumentId: 999_999 }, 'instrumentId'],
    ['no figures', { lab: null }, 'lab'],
    ['a lightness of 400', { lab: { ...target, L: 400 } }, 'lab.L'],
    ['an outcome for what was measured', { outcome: 'pass' }, 'outcome'],
    ['a spot on a picture of another part', { spot: { fileId: 999_999, x: 0.5, y: 0.5 } }, 'spot.fileId'],
    ['a spot beside the picture', { spot: { fileId: 1, x: 1.5, y: 0.5 } }, 'spot.x'],
  ] as [string, Partial<NewColourReading>, string][])('%s was taken', async (_, wrong, path) => {
    const lotId = lotB;
    if ((await lotOf(lotId)).status === 'released') await signAll(lotId);
    const reply = await add(lotId, reading(), reading(wrong));
    expect(reply.statusCode, reply.body).toBe(422);
    expect(paths(reply)).toEqual([`readings.1.${path}`]);
    expect((await colourOf(lotId)).readings).toEqual([]);
  });
});

describe('the instrument of a reading', () => {
  const meter = (extra: object) =>
    db.prisma.instrument.create({
      data: { code: `M-${Math.random()}`, name: 'Meter', kind: 'colour-meter', ...extra },
    });

  it('overdue for its calibration, it was calibrated later and its reading looked sound ever after', async () => {
    const { id } = await meter({ calibrationDueOn: new Date('2020-01-01') });
    const lotId = await finishedLot();
    expect(newest(await added(lotId, reading({ instrumentId: id })))).toMatchObject({
      ...{ verdict: 'pass', instrumentId: id, instrumentOverdue: true },
    });
    await db.prisma.instrument.update({
      where: { id },
      data: { code: 'M-NEW', calibrationDueOn: new Date('2090-01-01') },
    });
    const [before] = (await colourOf(lotId)).readings;
    expect(before).toMatchObject({ instrumentOverdue: true });
    expect(before?.instrument).toMatch(/^M-0\.\d+ Meter$/);
    expect(newest(await added(lotId, reading({ instrumentId: id })))).toMatchObject({
      ...{ instrument: 'M-NEW Meter', instrumentOverdue: false },
    });
    const corrected = await ok<LotColour>(
      post(operator, `/colour-readings/${before?.id}/corrections`, {
        ...{ withdrawn: false, lab: { ...target, L: 41 }, confirmed: false, reason: 'misread' },
      }),
      201,
    );
    expect(newest(corrected)).toMatchObject({ instrumentId: id, instrumentOverdue: true });
  });

  it('was a burette, or one that is not in use any more', async () => {
    const lotId = await finishedLot();
    for (const extra of [{ kind: 'burette' }, { archivedAt: new Date() }]) {
      const { id } = await meter(extra);
      const reply = await add(lotId, reading({ instrumentId: id }));
      expect(reply.statusCode).toBe(422);
      expect(paths(reply)).toEqual(['readings.0.instrumentId']);
    }
  });

  it('of a file may be none of the lab, in words; a file may not go without', async () => {
    const lotId = await finishedLot();
    const send = (instrument: string) =>
      post(
        operator,
        `/lots/${lotId}/colour-readings`,
        body([reading({ instrumentId: null, instrument })], { fileName: 'reads.txt' }),
      );
    expect(paths(await send(' '))).toEqual(['readings.0.instrumentId']);
    const colour = await ok<LotColour>(send('QC-700 of the customer'), 201);
    expect(newest(colour)).toMatchObject({ instrument: 'QC-700 of the customer', instrumentId: null });
  });

  it('only colour meters are offered to choose from', async () => {
    const { items } = await ok<{ items: { kind: string }[] }>(
      operator({ url: '/api/instruments?kind=colour-meter' }),
    );
    expect(new Set(items.map(({ kind }) => kind))).toEqual(new Set(['colour-meter']));
  });
});

describe('two people who compare', () => {
  const compared = (outcome: 'pass' | 'hold') =>
    reading({
      ...{
        grade: 'compared',
        lab: null,
        conditions: null,
        instrumentId: null,
        expandedUncertainty: null,
        outcome,
      },
    });

  it('one person compared alone, or named somebody who was not there', async () => {
    const lotId = await finishedLot();
    const second = await as('quality');
    await db.prisma.person.update({
      where: { id: second.personId },
      data: { pinHash: await hashSecret('4711') },
    });
    const send = (by: object | null, outcome: 'pass' | 'hold' = 'pass') =>
      post(operator, `/lots/${lotId}/colour-readings`, body([compared(outcome)], { second: by }));
    expect(paths(await send(null))).toEqual(['second']);
    expect(paths(await send({ personId: operator.personId, pin: '4711' }))).toEqual(['second.personId']);
    expect((await send({ personId: second.personId, pin: '0000' })).statusCode).toBe(401);
    expect((await colourOf(lotId)).readings).toEqual([]);
    const colour = await ok<LotColour>(send({ personId: second.personId, pin: '4711' }), 201);
    expect(newest(colour)).toMatchObject({ verdict: 'pass', grade: 'compared' });
    expect(newest(colour).secondBy).not.toBeNull();
    await ok(send({ personId: second.personId, pin: '4711' }, 'hold'), 201);
    expect((await lotOf(lotId)).holds[0]?.reason).toContain('two people found it not to match');
  });
});

describe('a correction', () => {
  const correct = (id: number, extra: object = {}) =>
    post(operator, `/colour-readings/${id}/corrections`, {
      ...{ withdrawn: false, lab: target, confirmed: false, reason: 'figures swapped', ...extra },
    });

  it('changed what was read: the old row stays, and its hold', async () => {
    const lotId = await finishedLot();
    const wrong = newest(await added(lotId, reading({ lab: { L: 46, a: 8, b: -30 } })));
    const colour = await ok<LotColour>(correct(wrong.id), 201);
    expect(newest(colour)).toMatchObject({
      correctsId: wrong.id,
      verdict: 'pass',
      reason: 'figures swapped',
    });
    expect(colour.readings[1]).toEqual({ ...wrong, correctedById: newest(colour).id });
    expect((await lotOf(lotId)).held).toBe(true);
    await expect(
      db.prisma.colourReading.update({ where: { id: wrong.id }, data: { labL: 40 } }),
    ).rejects.toThrow();
    await expect(db.prisma.colourReading.delete({ where: { id: wrong.id } })).rejects.toThrow();
  });

  it('a reading of another lot could not be taken away, and the lot counted as read', async () => {
    const lotId = await finishedLot();
    const wrong = newest(await added(lotId, reading()));
    const colour = await ok<LotColour>(
      correct(wrong.id, { withdrawn: true, lab: null, reason: 'lot 7' }),
      201,
    );
    expect(newest(colour)).toMatchObject({ withdrawn: true, verdict: null });
    expect(colour.missing).toContain('BLUE-1');
    expect((await accept(lotId)).statusCode).toBe(409);
  });

  it('two corrected one reading at once', async () => {
    const lotId = await finishedLot();
    const { id } = newest(await added(lotId, reading()));
    const labs = [41, 42].map((L) => ({ ...target, L }));
    const replies = await Promise.all(labs.map((lab) => correct(id, { lab })));
    expect(replies.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
  });

  it('a corrected figure beyond the limit did not hold the lot', async () => {
    const lotId = await finishedLot();
    const { id } = newest(await added(lotId, reading()));
    await ok(correct(id, { lab: { ...target, L: 46 } }), 201);
    expect((await lotOf(lotId)).held).toBe(true);
  });

  it.each([
    ['without a reason', { reason: ' ' }, 'reason'],
    ['without figures', { lab: null }, 'lab'],
    ['to what stands there', {}, 'lab'],
    ['with a slipped decimal', { lab: { ...target, L: 4 } }, 'confirmed'],
    ['withdrawn and with figures', { withdrawn: true }, 'lab'],
  ])('was taken %s', async (_, extra, path) => {
    const { readings } = await colourOf(lotB);
    const { id } = readings[0] ?? newest(await added(lotB, reading()));
    const reply = await correct(id, extra);
    expect(reply.statusCode, reply.body).toBe(422);
    expect(paths(reply)).toEqual([path]);
  });
});

describe('a file of the instrument', () => {
  const preview = (text: string) =>
    post(operator, `/lots/${lotB}/colour-file`, { text, expandedUncertainty: 0.5 });

  it('was kept before anybody saw what it holds, or was judged otherwise than shown', async () => {
    const before = (await colourOf(lotB)).readings.length;
    const shown = await ok<ColourFilePreview>(
      preview('place;L;a;b;illuminant\nleft;41,0;8,0;-30,0;D65\nback;4O,1;8;-30;D65'),
    );
    expect(shown).toMatchObject({
      format: 'CSV',
      stated: { illuminant: 'D65', geometry: null },
      ignored: [],
    });
    expect(shown.readings).toMatchObject([{ line: 2, place: 'left', verdict: 'pass' }]);
    expect(shown.faults.map(({ line }) => line)).toEqual([3]);
    expect((await colourOf(lotB)).readings).toHaveLength(before);
    const [first] = shown.readings;
    const kept = newest(await added(lotB, reading({ lab: first?.lab ?? null, place: 'left' })));
    expect(kept.judged).toEqual(first?.judged);
  });

  it('a text that is none was answered with 500', async () => {
    for (const text of ['', 'hello', 'CGATS.17\nBEGIN_DATA', '\uFEFF', 'L,a,b']) {
      const reply = await preview(text);
      expect(reply.statusCode, reply.body).toBe(422);
      expect(paths(reply)).toEqual(['text']);
    }
  });

  it('a spectrum is its colour under D65 and the 2 degree observer, whatever else the file says', async () => {
    const nm = Array.from({ length: 36 }, (_, i) => 380 + 10 * i);
    const spectrum = { wavelengthsNm: nm, reflectance: nm.map(() => 0.1124) };
    const colour = await added(lotB, reading({ lab: null, spectrum, confirmed: true }));
    expect(newest(colour)).toMatchObject({ hasSpectrum: true, verdict: 'hold' });
    expect(newest(colour).lab?.L).toBeCloseTo(40, 1);
    const short = { wavelengthsNm: nm.slice(10), reflectance: nm.slice(10).map(() => 0.1) };
    expect((await add(lotB, reading({ lab: null, spectrum: short }))).statusCode).toBe(422);
  });
});

describe('a standard under another light', () => {
  const nm = Array.from({ length: 41 }, (_, i) => 380 + 10 * i);
  /** Reflects above 560 nm: orange, and another colour under each light. */
  const spectrum = { wavelengthsNm: nm, reflectance: nm.map((one) => (one >= 560 ? 0.6 : 0.1)) };
  const warm = { ...conditions, illuminant: 'A', observerDeg: 10 } as const;
  const agreeUnder = (lotId: number, light: object, lab: object) =>
    withoutTriggers(db, (execute) =>
      execute(sql`
        update "lot" set "snapshot" = jsonb_set(jsonb_set("snapshot", '{part,agreedColour,conditions}', ${JSON.stringify(light)}::jsonb),
               '{part,agreedColour,target}', ${JSON.stringify(lab)}::jsonb) where "id" = ${lotId}`),
    );
  const underA = labOfSpectrum(spectrum, { illuminant: 'A', observerDeg: 10 });

  it('a spectrum was judged as it looks in daylight, though the standard was agreed in lamplight', async () => {
    const lotId = await finishedLot();
    await agreeUnder(lotId, warm, underA);
    const read = newest(await added(lotId, reading({ lab: null, spectrum })));
    expect(read).toMatchObject({ verdict: 'pass', conditions: { illuminant: 'A', observerDeg: 10 } });
    expect(read.judged?.deltaE).toBeLessThan(1e-9);
    expect(read.lab?.a).toBeCloseTo(underA.a, 9);
    const daylight = labOfSpectrum(spectrum, { illuminant: 'D65', observerDeg: 2 });
    expect(deltaE2000(daylight, underA)).toBeGreaterThan(3);
    // Typed figures of daylight are refused in words, and compared with nothing.
    const typed = await add(lotId, reading({ lab: daylight }));
    expect(paths(typed)).toEqual(['readings.0.conditions.illuminant']);
    expect(typed.body).toContain('must be A, as the standard was agreed');
    // Nor are they near each other when colours are searched.
    const near = async (query: string) =>
      (
        await ok<{ items: ColourPoint[] }>(
          quality({
            url: `/api/trace/colours?L=${underA.L}&a=${underA.a}&b=${underA.b}&within=1${query}`,
          }),
        )
      ).items.map(({ readingId }) => readingId);
    expect(await near('')).not.toContain(read.id);
    expect(await near('&illuminant=A&observerDeg=10')).toContain(read.id);
  });

  it('was shown as agreed in the preview of a file of another light', async () => {
    const lotId = await finishedLot();
    await agreeUnder(lotId, warm, target);
    const { readings } = await ok<ColourFilePreview>(
      post(operator, `/lots/${lotId}/colour-file`, {
        ...{ text: 'place;L;a;b;illuminant\nleft;40,0;8,0;-30,0;D65\n', expandedUncertainty: 0.5 },
      }),
    );
    expect(readings).toMatchObject([{ judged: null, verdict: null }]);
    expect(readings[0]?.notComparable).toContain('must be A');
  });

  it('that has no tables here takes figures of the instrument, and no spectrum', async () => {
    const lotId = await finishedLot();
    const fluorescent = { ...conditions, illuminant: 'F11' } as const;
    await agreeUnder(lotId, fluorescent, target);
    const refused = await add(lotId, reading({ lab: null, spectrum }));
    expect(paths(refused)).toEqual(['readings.0.spectrum']);
    expect(refused.body).toContain('not under F11');
    expect(newest(await added(lotId, reading({ conditions: fluorescent })))).toMatchObject({
      verdict: 'pass',
    });
  });
});

describe('where colours are found again', () => {
  const search = (query: string) =>
    ok<{ items: ColourPoint[] }>(quality({ url: `/api/trace/colours?${query}` }));

  it('lots near a colour are found nearest first, and those that were withdrawn are not', async () => {
    const { items } = await search('L=40&a=8&b=-30&within=2');
    expect(items.length).toBeGreaterThan(3);
    const distances = items.map(({ distance }) => distance ?? NaN);
    expect(distances).toEqual([...distances].sort((one, other) => one - other));
    expect(Math.max(...distances)).toBeLessThanOrEqual(2);
    const withdrawn = await db.prisma.colourReading.findMany({ where: { withdrawn: true } });
    expect(items.map(({ readingId }) => readingId)).not.toContain(withdrawn[0]?.correctsId);
    expect((await search('L=80&a=80&b=80')).items).toEqual([]);
  });

  it('lots are found by their difference from what was agreed', async () => {
    const { items } = await search('deltaEFrom=3');
    expect(items.length).toBeGreaterThan(0);
    for (const { deltaE } of items) expect(deltaE).toBeGreaterThanOrEqual(3);
  });

  it.each(['L=40', 'L=40&a=8&b=-30&within=0', 'within=2', 'L=4000&a=0&b=0'])(
    '%s was answered',
    async (query) => {
      expect((await quality({ url: `/api/trace/colours?${query}` })).statusCode).toBe(422);
    },
  );

  it('the chart of a recipe holds every reading that stands, oldest first, with the voltage of its step', async () => {
    const revision = await db.prisma.recipeRevision.findUniqueOrThrow({
      where: { id: shop.recipeRevisionId },
    });
    const { items } = await ok<{ items: ColourPoint[] }>(
      planner({ url: `/api/recipes/${revision.recipeId}/colour-chart` }),
    );
    expect(items.length).toBeGreaterThan(5);
    for (const { voltageV } of items) expect(voltageV).toBe(30);
    const times = items.map(({ readAt }) => readAt);
    expect(times).toEqual([...times].sort());
  });
});

describe('access', () => {
  it('who may not sign steps recorded or corrected a reading', async () => {
    expect((await post(planner, `/lots/${lotB}/colour-readings`, body([reading()]))).statusCode).toBe(403);
    expect((await post(estimator, '/colour-readings/1/corrections', {})).statusCode).toBe(403);
    expect((await estimator({ url: '/api/trace/colours' })).statusCode).toBe(403);
    const rule = { method: 'PUT' as const, url: '/api/colour-rule', payload: { guardFactor: 0 } };
    expect((await quality({ ...rule, headers: { 'if-match': '"1"' } })).statusCode).toBe(403);
  });
});
