// @vitest-environment jsdom
import type { Traveler, TravelerStep } from '@huelot/contracts';
import { cleanup, fireEvent, render, screen } from '@testing-library/svelte';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { page } from '../../../test/app-state.ts';
import { outbox } from './outbox.ts';
import { StepClock } from './step-clock.svelte.ts';
import StepClockPanel from './StepClock.svelte';

const START = Date.parse('2026-11-29T08:00:00Z');
/** Only what the clock reads: five minutes in the tank, then ten seconds of drip. */
const step = {
  id: 11,
  position: 3,
  title: 'Anodise',
  durationS: 300,
  dripS: 10,
  tank: { code: 'T1' },
  run: null,
} as unknown as TravelerStep;
const traveler = { lot: { id: 1, number: 'L-00001' } } as unknown as Traveler;

function panel(run: TravelerStep['run'] = null) {
  const current = { ...step, run };
  const clock = new StepClock({ step: () => current, waiting: () => outbox.ofLot(traveler.lot.id) });
  const onchange = vi.fn();
  render(StepClockPanel, { traveler, step: current, clock, blocked: false, onchange });
  return onchange;
}
const timer = () => screen.getByRole('timer').textContent.trim();

beforeEach(() => {
  vi.useFakeTimers({ now: START });
  vi.stubGlobal('fetch', () => Promise.reject(new TypeError('no network')));
  vi.stubGlobal(
    'AudioContext',
    class {
      state = 'suspended';
      resume = () => Promise.resolve();
    },
  );
  page.data = { me: { person: { id: 7, displayName: 'Omar' }, shop: { timeZone: 'UTC' } } };
});
afterEach(() => {
  cleanup();
  vi.useRealTimers();
  vi.unstubAllGlobals();
  localStorage.clear();
  outbox.reload();
  page.data = {};
});

describe('the clock of a step', () => {
  it('runs from In to Out without a network', async () => {
    const onchange = panel();
    expect(timer()).toBe('5:00');
    await fireEvent.click(screen.getByRole('button', { name: 'In' }));
    await vi.advanceTimersByTimeAsync(60_000);
    expect(timer()).toBe('4:00');
    await fireEvent.click(screen.getByRole('button', { name: 'Out' }));
    await vi.advanceTimersByTimeAsync(30_000);
    expect(timer()).toBe('1:00');
    expect(screen.queryByRole('button', { name: 'Out' })).toBeNull();
    expect(onchange).not.toHaveBeenCalled();
    expect(outbox.items.map(({ kind }) => kind)).toEqual(['in', 'out']);
  });

  it('says aloud that the time is up, until somebody silences it', async () => {
    panel({ inAt: '2026-11-29T07:56:00Z', inBy: 'Ines', outAt: null } as unknown as TravelerStep['run']);
    expect(screen.getByText('left')).toBeDefined();
    await vi.advanceTimersByTimeAsync(61_000);
    expect(screen.getByText('over time')).toBeDefined();
    expect(screen.getByText('Time is up for Anodise')).toBeDefined();
    expect(document.title).toBe('TIME IS UP · Anodise · L-00001');
    await fireEvent.click(screen.getByRole('button', { name: 'Quiet' }));
    expect(screen.queryByRole('button', { name: 'Quiet' })).toBeNull();
  });
});
