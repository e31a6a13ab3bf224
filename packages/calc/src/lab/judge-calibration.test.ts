import { expect, it } from 'vitest';
import { judgeCalibration } from './judge-calibration.ts';

const judge = (reading: number, more: object = {}) =>
  judgeCalibration({ reference: 20, reading, tolerance: 0.1, expandedUncertainty: null, ...more });

it('an error as large as its tolerance was refused for the last bits of a decimal', () => {
  expect(judge(20.1).verdict).toBe('pass');
  expect(judge(19.9).verdict).toBe('pass');
  expect(judge(20.100001).verdict).toBe('fail');
  expect(judge(19.899999).verdict).toBe('fail');
});

it('a point near its tolerance was as sure as one in the middle', () => {
  const expandedUncertainty = 0.03;
  expect(judge(20.05, { expandedUncertainty }).isUncertain).toBe(false);
  expect(judge(20.08, { expandedUncertainty })).toMatchObject({ verdict: 'pass', isUncertain: true });
  expect(judge(20.12, { expandedUncertainty })).toMatchObject({ verdict: 'fail', isUncertain: true });
  expect(judge(20.2, { expandedUncertainty })).toMatchObject({ verdict: 'fail', isUncertain: false });
});

/** At 121.5 °C true a class A platinum thermometer may be off by 0.15 °C + 0.002 × 121.5 °C: IEC 60751:2008, 5.1, from memory. */
it('the tolerance of a class A platinum thermometer is kept', () => {
  const tolerance = 0.15 + 0.002 * 121.5;
  const read = (reading: number) =>
    judgeCalibration({ reference: 121.5, reading, tolerance, expandedUncertainty: 0.05 });
  expect(read(121.9)).toMatchObject({ verdict: 'fail', isUncertain: true });
  expect(read(121.3)).toMatchObject({ verdict: 'pass', isUncertain: false });
});

it('a tolerance of nothing, or less than none, was taken', () => {
  expect(() => judge(20, { tolerance: 0 })).toThrow(/tolerance/);
  expect(() => judge(20, { expandedUncertainty: -1 })).toThrow(/expandedUncertainty/);
});
