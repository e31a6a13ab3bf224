import { describe, expect, it } from 'vitest';
import { type PlanLot, type PlanStep, scheduleLots, type Shop } from './index.ts';

const shop = (extra: Partial<Shop>): Shop => ({
  startS: 0,
  shifts: [{ fromS: 0, untilS: 10_000 }],
  transferS: 0,
  tanks: [{ id: 'a' }, { id: 'b' }, { id: 'c' }],
  supplies: [],
  lots: [],
  ...extra,
});

const step = (tank: string, durationS: number, extra: Partial<PlanStep> = {}): PlanStep => ({
  tankIds: [tank],
  durationS,
  ...extra,
});

/** When each lot is in which tank, as text: `2: a 10-20, b 20-25`. */
const told = (input: Shop): string[] =>
  scheduleLots(input).lots.map(
    ({ id, steps }) =>
      `${id}: ${steps.map(({ tankId, startS, leaveS }) => `${tankId ?? '-'} ${startS}-${leaveS}`).join(', ')}`,
  );

const lots = (count: number, steps: PlanStep[]): PlanLot[] =>
  Array.from({ length: count }, (_, i) => ({ id: i + 1, steps }));

describe('plans by hand', () => {
  it('a load follows as soon as the first tank is free', () => {
    expect(told(shop({ lots: lots(2, [step('a', 10), step('b', 5)]) }))).toEqual([
      '1: a 0-10, b 10-15',
      '2: a 10-20, b 20-25',
    ]);
  });

  it('starts later when the slow tank comes second, for no load may wait in the first', () => {
    expect(told(shop({ lots: lots(2, [step('a', 5), step('b', 10)]) }))).toEqual([
      '1: a 0-5, b 5-15',
      '2: a 10-15, b 15-25',
    ]);
  });

  it('starts sooner when it may wait, and keeps the tank as long', () => {
    const steps = [step('a', 5, { maxWaitS: 3 }), step('b', 10)];
    expect(told(shop({ lots: lots(3, steps) }))).toEqual([
      '1: a 0-5, b 5-15',
      '2: a 7-15, b 15-25',
      '3: a 17-25, b 25-35',
    ]);
  });

  it('drips above its tank, then travels', () => {
    const steps = [step('a', 10, { dripS: 4 }), step('b', 5, { dripS: 1 })];
    expect(told(shop({ transferS: 2, lots: lots(2, steps) }))).toEqual([
      '1: a 0-14, b 16-22',
      '2: a 14-28, b 30-36',
    ]);
  });

  it('takes the second of two tanks when the first is taken', () => {
    const steps = [{ tankIds: ['a', 'b'], durationS: 10 }, step('c', 5)];
    expect(told(shop({ lots: lots(3, steps) }))).toEqual([
      '1: a 0-10, c 10-15',
      '2: b 5-15, c 15-20',
      '3: a 10-20, c 20-25',
    ]);
  });

  it('fills a gap that an earlier lot left', () => {
    const long = { id: 1, dueS: 100, steps: [step('a', 5), step('b', 50), step('a', 5)] };
    const short = { id: 2, dueS: 200, steps: [step('a', 20)] };
    expect(told(shop({ lots: [long, short] }))).toEqual(['1: a 0-5, b 5-55, a 55-60', '2: a 5-25']);
  });

  it('one supply on two tanks is used by one load at a time', () => {
    const steps = [{ tankIds: ['a', 'b'], durationS: 10, dripS: 3, supplyIds: ['p'] }];
    const given = shop({ supplies: [{ id: 'p', tankIds: ['a', 'b'] }], lots: lots(3, steps) });
    expect(told(given)).toEqual(['1: a 0-13', '2: b 10-23', '3: a 20-33']);
    expect(scheduleLots(given).lots.map((lot) => lot.steps[0]?.supplyId)).toEqual(['p', 'p', 'p']);
  });

  it('takes the supply that is wired to the tank', () => {
    const steps = [{ tankIds: ['a', 'b'], durationS: 10, supplyIds: ['p', 'q'] }];
    const supplies = [
      { id: 'p', tankIds: ['b'] },
      { id: 'q', tankIds: ['a'] },
    ];
    const planned = scheduleLots(shop({ supplies, lots: lots(2, steps) })).lots.map((lot) => lot.steps[0]);
    expect(planned).toMatchObject([
      { tankId: 'a', supplyId: 'q', startS: 0 },
      { tankId: 'b', supplyId: 'p', startS: 0 },
    ]);
  });

  it('works around cleaning and a lot that is already running', () => {
    const tanks = [
      { id: 'a', busy: [{ fromS: 0, untilS: 7 }] },
      { id: 'b', busy: [{ fromS: 15, untilS: 40 }] },
    ];
    expect(told(shop({ tanks, lots: lots(2, [step('a', 5), step('b', 4)]) }))).toEqual([
      '1: a 35-40, b 40-44',
      '2: a 40-45, b 45-49',
    ]);
    const supplies = [{ id: 'p', tankIds: ['a'], busy: [{ fromS: 5, untilS: 9 }] }];
    expect(told(shop({ supplies, lots: lots(1, [step('a', 6, { supplyIds: ['p'] })]) }))).toEqual([
      '1: a 9-15',
    ]);
  });

  it('a wait ends when the tank is wanted by another', () => {
    const tanks = [
      { id: 'a', busy: [{ fromS: 12, untilS: 20 }] },
      { id: 'b', busy: [{ fromS: 0, untilS: 14 }] },
    ];
    const steps = [step('a', 10, { maxWaitS: 100 }), step('b', 1)];
    expect(told(shop({ tanks, lots: lots(1, steps) }))).toEqual(['1: a 20-30, b 30-31']);
  });

  it('work beside the line takes time, and no tank', () => {
    const steps = [{ tankIds: [], durationS: 30, mayRest: true }, step('a', 10)];
    expect(told(shop({ lots: lots(2, steps) }))).toEqual(['1: - 0-30, a 30-40', '2: - 0-30, a 40-50']);
  });
});

describe('shifts', () => {
  const shifts = [
    { fromS: 100, untilS: 200 },
    { fromS: 300, untilS: 400 },
  ];

  it('what has begun is finished in the same shift', () => {
    expect(told(shop({ shifts, lots: lots(2, [step('a', 60)]) }))).toEqual(['1: a 100-160', '2: a 300-360']);
    expect(told(shop({ shifts, lots: lots(1, [step('a', 100)]) }))).toEqual(['1: a 100-200']);
  });

  it('a load that may rest goes on in the next', () => {
    const steps = [step('a', 60, { mayRest: true }), step('b', 60)];
    expect(told(shop({ shifts, lots: lots(1, steps) }))).toEqual(['1: a 100-160, b 300-360']);
  });

  it('a wait does not run past the end', () => {
    const tanks = [{ id: 'a' }, { id: 'b', busy: [{ fromS: 0, untilS: 180 }] }];
    const steps = [step('a', 40, { maxWaitS: 100 }), step('b', 30)];
    expect(told(shop({ shifts, tanks, lots: lots(1, steps) }))).toEqual(['1: a 300-340, b 340-370']);
  });

  it('the plan begins when it should, in the middle of a shift', () => {
    expect(told(shop({ shifts, startS: 150, lots: lots(1, [step('a', 50)]) }))).toEqual(['1: a 150-200']);
    expect(told(shop({ shifts, startS: 151, lots: lots(1, [step('a', 50)]) }))).toEqual(['1: a 300-350']);
  });

  it('says why a lot has no place, and keeps nothing for it', () => {
    const first = { id: 1, dueS: 1, steps: [step('a', 60, { mayRest: true }), step('b', 101)] };
    const { unplanned, lots: planned } = scheduleLots(
      shop({ shifts, lots: [first, ...lots(5, [step('a', 60)]).slice(1)] }),
    );
    expect(unplanned).toEqual([
      { id: 1, reason: 'it takes 101 s without a rest; the longest shift has 100 s' },
      { id: 4, reason: 'the shifts given are over before it finds its place' },
      { id: 5, reason: 'the shifts given are over before it finds its place' },
    ]);
    expect(planned.map(({ id, startS }) => [id, startS])).toEqual([
      [2, 100],
      [3, 300],
    ]);
  });
});

describe('who goes first', () => {
  it.each<[string, Partial<PlanLot>[], (string | number)[]]>([
    ['priority before all', [{ dueS: 1 }, { priority: 1 }], [2, 1]],
    ['the earlier due time', [{ dueS: 200 }, { dueS: 100 }, {}], [2, 1, 3]],
    ['a promise before none', [{ dueS: null }, { dueS: 9000 }], [2, 1]],
    ['the earlier release', [{ releaseS: 2 }, { releaseS: 1 }], [2, 1]],
    ['ids last, numbers as numbers', [{ id: 10 }, { id: 9 }, { id: 'x' }, { id: 'B' }], [9, 10, 'B', 'x']],
  ])('%s', (_, input, order) => {
    const list = input.map((lot, i) => ({ id: i + 1, steps: [step('a', 10)], ...lot }));
    expect(scheduleLots(shop({ lots: list })).lots.map(({ id }) => id)).toEqual(order);
  });

  it('nothing starts before its release', () => {
    expect(told(shop({ lots: [{ id: 1, releaseS: 25, steps: [step('a', 10)] }] }))).toEqual(['1: a 25-35']);
  });

  it('tells how late a lot will be, and how long tanks are taken', () => {
    const list = [
      { id: 1, dueS: 15, steps: [step('a', 10, { dripS: 2 })] },
      { id: 2, dueS: 20, steps: [step('a', 10)] },
    ];
    const plan = scheduleLots(shop({ lots: list }));
    expect(plan.lots.map(({ lateS, endS }) => [lateS, endS])).toEqual([
      [0, 12],
      [2, 22],
    ]);
    expect(plan).toMatchObject({
      endS: 22,
      tanks: [
        { id: 'a', takenS: 22 },
        { id: 'b', takenS: 0 },
        { id: 'c', takenS: 0 },
      ],
    });
  });

  it('an empty list is an empty plan', () => {
    expect(scheduleLots(shop({ startS: 5 }))).toMatchObject({ lots: [], unplanned: [], endS: 5 });
  });
});

describe('refusals', () => {
  const one = { id: 1, steps: [step('a', 10)] };

  it.each<[string, Partial<Shop>, string]>([
    ['no shift', { shifts: [] }, 'shifts'],
    ['a shift that ends before it begins', { shifts: [{ fromS: 5, untilS: 5 }] }, 'shifts[0].untilS'],
    [
      'overlapping shifts',
      {
        shifts: [
          { fromS: 0, untilS: 9 },
          { fromS: 8, untilS: 20 },
        ],
      },
      'shifts[1].fromS',
    ],
    ['two tanks of one id', { tanks: [{ id: 'a' }, { id: 'a' }] }, 'tanks[1].id'],
    ['two lots of one id', { lots: [one, one] }, 'lots[1].id'],
    ['an unknown tank', { lots: [{ id: 1, steps: [step('z', 10)] }] }, 'lots[0].steps[0].tankIds[0]'],
    [
      'an unknown supply',
      { lots: [{ id: 1, steps: [step('a', 10, { supplyIds: ['p'] })] }] },
      'lots[0].steps[0].supplyIds[0]',
    ],
    [
      'a supply wired to an unknown tank',
      { supplies: [{ id: 'p', tankIds: ['z'] }] },
      'supplies[0].tankIds[0]',
    ],
    [
      'a supply wired elsewhere',
      {
        supplies: [{ id: 'p', tankIds: ['b'] }],
        lots: [{ id: 1, steps: [step('a', 10, { supplyIds: ['p'] })] }],
      },
      'lots[0].steps[0].supplyIds',
    ],
    [
      'no supply at all',
      { lots: [{ id: 1, steps: [step('a', 10, { supplyIds: [] })] }] },
      'lots[0].steps[0].supplyIds',
    ],
    ['half a second', { lots: [{ id: 1, steps: [step('a', 1.5)] }] }, 'lots[0].steps[0].durationS'],
    ['time backwards', { lots: [{ id: 1, steps: [step('a', -1)] }] }, 'lots[0].steps[0].durationS'],
    [
      'a negative wait',
      { lots: [{ id: 1, steps: [step('a', 1, { maxWaitS: -1 })] }] },
      'lots[0].steps[0].maxWaitS',
    ],
    ['a lot without steps', { lots: [{ id: 1, steps: [] }] }, 'lots[0].steps'],
    ['NaN', { transferS: NaN }, 'transferS'],
    ['a due time without end', { lots: [{ ...one, dueS: Infinity }] }, 'lots[0].dueS'],
    [
      'a busy time turned round',
      { tanks: [{ id: 'a', busy: [{ fromS: 9, untilS: 3 }] }] },
      'tanks[0].busy[0].untilS',
    ],
  ])('%s', (...[, change, argument]) => {
    expect(() => scheduleLots(shop(change))).toThrowError(expect.objectContaining({ argument }));
  });
});
