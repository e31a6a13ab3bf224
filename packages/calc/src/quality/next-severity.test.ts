import { describe, expect, it } from 'vitest';
import { type InspectedLot, nextSeverity, type SwitchingRules } from './next-severity.ts';

/** A history in letters: a accepted, r rejected, and their capitals for a resubmitted lot. */
const lots = (letters: string, extra: Partial<InspectedLot> = {}): InspectedLot[] =>
  [...letters].map((letter) => ({
    accepted: letter.toLowerCase() === 'a',
    ...(letter === letter.toUpperCase() ? { resubmitted: true } : {}),
    ...extra,
  }));

const iso: SwitchingRules = { scheme: 'ISO 2859-1', reducedAgreed: true };

// MIL-STD-105E (1989) 4.7.1 to 4.7.5 and 4.8, one history per clause.
describe('MIL-STD-105E', () => {
  it.each([
    ['no lot yet', '', 'normal'],
    ['one rejected', 'r', 'normal'],
    ['two of two rejected', 'rr', 'tightened'],
    ['two of five rejected', 'raaar', 'tightened'],
    ['the second rejection comes a lot too late', 'raaaar', 'normal'],
    ['resubmitted lots count in no rule', 'rRRRa', 'normal'],
    ['a resubmitted lot does not lengthen the five', 'raAAaar', 'tightened'],
    ['four accepted on tightened', 'rraaaa', 'tightened'],
    ['five accepted on tightened', 'rraaaaa', 'normal'],
    ['a rejection starts the five again', 'rraaaaraaaa', 'tightened'],
    ['back on normal the old rejections are forgotten', 'rraaaaar', 'normal'],
    ['nine lots on tightened', 'rr' + 'aarrarara', 'tightened'],
    ['ten lots on tightened', 'rr' + 'aarrararar', 'stopped'],
    ['the tenth lot on tightened is also the fifth accepted', 'rr' + 'aaaaraaaaa', 'normal'],
    ['what is delivered after the stop changes nothing', 'rr' + 'aarrararar' + 'aaaaaa', 'stopped'],
  ])('%s: %s gives %s', (_, letters, severity) => {
    expect(nextSeverity(lots(letters)).severity).toBe(severity);
  });

  it('says why', () => {
    expect(nextSeverity(lots('rr'))).toEqual({
      severity: 'tightened',
      because: '2 of 5 or fewer consecutive lots rejected',
      acceptedInARow: 0,
      switchingScore: null,
      flags: [],
    });
    expect(nextSeverity(lots('raa'))).toMatchObject({ because: null, acceptedInARow: 2 });
  });

  describe('to reduced', () => {
    const rules = { reducedAgreed: true, limitNumber: 3 };
    const ten = (found: number) => [...lots('a'.repeat(9), { found: 0 }), { accepted: true, found }];

    it.each([
      ['ten accepted within the limit number', ten(3), rules, 'reduced'],
      ['ten accepted above the limit number', ten(4), rules, 'normal'],
      ['nine accepted', ten(0).slice(1), rules, 'normal'],
      ['not agreed', ten(0), { limitNumber: 3 }, 'normal'],
      ['no limit number known', ten(0), { reducedAgreed: true }, 'normal'],
      ['one lot without its count', [...lots('a'), ...ten(0).slice(1)], rules, 'normal'],
      ['one of ten rejected', [...lots('r', { found: 0 }), ...ten(0).slice(1)], rules, 'normal'],
      ['only the last ten count', [...lots('a', { found: 9 }), ...ten(3)], rules, 'reduced'],
    ] as const)('%s', (...[, history, given, severity]) => {
      expect(nextSeverity(history, given).severity).toBe(severity);
    });
  });

  it.each([
    ['accepted', [{ accepted: true }], 'reduced'],
    ['rejected', [{ accepted: false }], 'normal'],
    ['accepted between Ac and Re', [{ accepted: true, inGap: true }], 'normal'],
    ['irregular production', [{ accepted: true, irregular: true }], 'normal'],
  ])('on reduced, %s', (_, history, severity) => {
    expect(nextSeverity(history, { start: 'reduced' }).severity).toBe(severity);
  });
});

describe('ISO 2859-1 (score and stop rule from memory)', () => {
  it('allows reduced at a score of 30', () => {
    const small = (count: number) => lots('a'.repeat(count), { ac: 1 });
    expect(nextSeverity(small(14), iso)).toMatchObject({ severity: 'normal', switchingScore: 28 });
    expect(nextSeverity(small(15), iso)).toMatchObject({ severity: 'reduced', switchingScore: null });
    const large = (count: number) => lots('a'.repeat(count), { ac: 3, passesTighterAql: true });
    expect(nextSeverity(large(9), iso)).toMatchObject({ severity: 'normal', switchingScore: 27 });
    expect(nextSeverity(large(10), iso).severity).toBe('reduced');
    expect(nextSeverity(large(10), { scheme: 'ISO 2859-1' }).severity).toBe('normal');
  });

  it('drops the score on a rejection, and on a lot that would fail the next tighter AQL', () => {
    expect(nextSeverity([...lots('aaa'), ...lots('r')], iso).switchingScore).toBe(0);
    expect(
      nextSeverity([...lots('aaa'), ...lots('a', { ac: 2, passesTighterAql: false })], iso).switchingScore,
    ).toBe(0);
  });

  it('stops after five rejected lots on tightened, however many lots that takes', () => {
    const tightened: SwitchingRules = { scheme: 'ISO 2859-1', start: 'tightened' };
    expect(nextSeverity(lots('raaaraaaraaaraaa'), tightened).severity).toBe('tightened');
    expect(nextSeverity(lots('raaaraaaraaaraaar'), tightened).severity).toBe('stopped');
  });

  it('says that it is from memory', () => {
    expect(nextSeverity([], iso).flags).toEqual([expect.stringContaining('from memory')]);
  });
});

describe('limits', () => {
  it.each([
    [() => nextSeverity([], { scheme: 'ANSI' as 'ISO 2859-1' }), 'scheme'],
    [() => nextSeverity([], { start: 'strict' as 'normal' }), 'start'],
    [() => nextSeverity([], { limitNumber: -1 }), 'limitNumber'],
    [() => nextSeverity([{ accepted: true }, { accepted: true, found: 0.5 }]), 'history[1].found'],
    [() => nextSeverity([{ accepted: true, ac: -1 }]), 'history[0].ac'],
  ])('refuses a wrong $1', (call, argument) => {
    expect(call).toThrow(expect.objectContaining({ name: 'CalcError', argument }));
  });
});
