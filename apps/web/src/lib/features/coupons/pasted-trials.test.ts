import { describe, expect, it } from 'vitest';
import type { TankContents } from '@huelot/contracts';
import { readPasted as read } from './pasted-trials.ts';

const readPasted = (text: string, options: { inPercent: boolean; contents?: TankContents }) =>
  read(text, { contents: 'hot-caustic', ...options });

const heads = 'mark,temperatureC,voltageV,timeS,strength,outcome,L,a,b,madeOn,madeBy';
const row = {
  mark: 'K1',
  coatingThicknessUm: null,
  pH: null,
  currentDensityAPerM2: null,
  protects: null,
  grade: null,
  run: null,
  temperatureC: 50,
  voltageV: 2.2,
  timeS: 480,
  strength: 0.5,
  outcome: 'interference',
  lab: { L: 40, a: 8, b: -30 },
  madeOn: '2026-03-02',
  madeBy: 'L. Frost',
};

describe('rows pasted from a spreadsheet', () => {
  it.each([
    [
      'as they are exported',
      `${heads}\r\nK1,50,2.2,480,0.5,interference,40,8,-30,2026-03-02,L. Frost\r\n`,
      false,
    ],
    ['without heads', 'K1,50,2.2,480,0.5,interference,40,8,-30,2026-03-02,L. Frost', false],
    [
      'with tabs, decimal commas and per cent',
      'K1\t50\t2,2\t480\t50\tInterference\t40\t8\t−30\t2.3.2026\tL. Frost',
      true,
    ],
    ['with semicolons', 'K1;50,0;2,2;480;50;interference;40;8;-30;02.03.2026;L. Frost', true],
  ])('are read %s', (_, text, inPercent) => {
    expect(readPasted(text, { inPercent })).toEqual({ trials: [row], faults: [] });
  });

  it('without a colour are coupons whose colour was not measured', () => {
    const { trials } = readPasted(',30,2,300,0.5,none,,,,2026-03-02,L. Frost', { inPercent: false });
    expect(trials[0]).toMatchObject({ mark: '', outcome: 'none', lab: { L: null, a: null, b: null } });
  });

  it('are all left out where one cell cannot be read, and each fault is named by its line and column', () => {
    const good = 'K1,50,2.2,480,0.5,interference,40,8,-30,2026-03-02,L. Frost';
    const bad = 'K2,50,x,,0.5,brown,40,8,-30,3/4/26,';
    expect(readPasted([heads, good, bad].join('\n'), { inPercent: false })).toEqual({
      trials: [],
      faults: [
        'line 3, outcome: must be one of none, interference, gold-brown, dark, powdery, etched, spotted, bath-coloured',
        'line 3, madeOn: must be a day like 2026-03-31 or 31.3.2026',
        'line 3, madeBy: is empty',
        'line 3, voltageV: “x” is not a number',
        'line 3, timeS: is empty',
      ],
    });
    expect(readPasted('K1,50,2.2,480,0.5,dark,,,,2026-02-30,L', { inPercent: false }).faults).toHaveLength(1);
    expect(readPasted('"K1', { inPercent: false }).faults[0]).toMatch(/cannot be read: Quote Not Closed/);
  });

  it('with heads in another order had voltage and time swapped: they are read by head', () => {
    const swapped = 'madeBy;TIMES;voltageV;temperatureC;mark;strength;outcome;b;a;L;madeOn';
    const cells = 'L. Frost;480;2,2;50;K1;0,5;interference;-30;8;40;2026-03-02';
    expect(readPasted(`${swapped}\n${cells}`, { inPercent: false })).toEqual({ trials: [row], faults: [] });
  });

  it('under heads that say something else are refused, and none is guessed', () => {
    const foreign = heads.replace('voltageV', 'Volts').replace('timeS', 'strength');
    const cells = 'K1,50,2.2,480,0.5,interference,40,8,-30,2026-03-02,L. Frost';
    const { trials, faults } = readPasted(`${foreign}\n${cells}`, { inPercent: false });
    expect(trials).toEqual([]);
    expect(faults).toHaveLength(4);
    expect(faults[0]).toMatch(/“Volts” is no column/);
    expect(faults.slice(1)).toEqual([
      expect.stringMatching(/voltageV is missing/),
      expect.stringMatching(/timeS is missing/),
      expect.stringMatching(/strength stands twice/),
    ]);
  });

  it('of nothing are nothing', () => {
    expect(readPasted('', { inPercent: false })).toEqual({ trials: [], faults: [] });
  });

  it('of a dye were refused for having no voltage', () => {
    const dyed = 'D1,10,55,480,5,dyed,38,52,30,2026-03-02,L. Frost';
    const { trials, faults } = readPasted(dyed, { inPercent: false, contents: 'dye' });
    expect(faults).toEqual([]);
    expect(trials[0]).toMatchObject({ coatingThicknessUm: 10, temperatureC: 55, timeS: 480, voltageV: null });
  });

  it('lost what may be left out: current density, protection and grade under their heads', () => {
    const more = `${heads},currentDensityAPerM2,protects,grade`;
    const cells = 'K1,50,2.2,480,0.5,interference,40,8,-30,2026-03-02,L. Frost,120,no,photo';
    expect(readPasted(`${more}\n${cells}`, { inPercent: false })).toEqual({
      trials: [{ ...row, currentDensityAPerM2: 120, protects: false, grade: 'photo' }],
      faults: [],
    });
    const odd = cells.replace('no,photo', 'maybe,seen');
    expect(readPasted(`${more}\n${odd}`, { inPercent: false }).faults).toEqual([
      'line 2, protects: must be one of yes, no, unknown',
      'line 2, grade: must be one of measured, compared, photo, word',
    ]);
  });
});
