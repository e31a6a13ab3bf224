// @vitest-environment jsdom
import type { Part } from '@huelot/contracts';
import { cleanup, fireEvent, render, screen } from '@testing-library/svelte';
import { afterEach, describe, expect, it } from 'vitest';
import { FormState } from '$lib/forms/form.svelte.ts';
import { type PartValues, type ShapesValues, emptyFeature, emptyPart } from './part-form.ts';
import ShapesBox from './ShapesBox.svelte';

const plate = () => ({
  ...emptyFeature(),
  shape: { kind: 'plate' as const, lengthMm: 60, widthMm: 30, thicknessMm: 3 },
});

function show(features: ShapesValues['features'], box: Partial<PartValues> = {}) {
  const values: ShapesValues = {
    kind: 'shapes',
    features,
    joints: [],
    maskedMm2: 0,
    contactMm2: 0,
    roughnessFactor: 1,
  };
  const form = new FormState<PartValues, Part>({
    values: { ...emptyPart(1), geometry: values, ...box },
    send: () => Promise.reject(new Error('nothing is sent here')),
    done: () => undefined,
  });
  render(ShapesBox, { form, values });
  return form;
}
afterEach(cleanup);

describe('ShapesBox', () => {
  it('a part built from one shape went onto its rack without a box', async () => {
    const form = show([plate()]);
    await fireEvent.click(screen.getByRole('button', { name: 'Use the box of the shape' }));
    expect(form.values).toMatchObject({ widthMm: 60, heightMm: 3, depthMm: 30 });
    expect(screen.queryByRole('button')).toBeNull();
  });

  it('leaves a typed box as it is, and says that it differs', () => {
    const form = show([plate()], { widthMm: 600, heightMm: 30, depthMm: 3 });
    expect(screen.getByText('The box below is not that of this shape')).toBeTruthy();
    expect(form.values.widthMm).toBe(600);
  });

  it('says nothing of a box that was turned as it hangs', () => {
    show([plate()], { widthMm: 30, heightMm: 60, depthMm: 3 });
    expect(screen.queryByRole('note')).toBeNull();
  });

  it('makes up no box for shapes that are joined, and says what is missing without it', () => {
    show([plate(), plate()]);
    expect(screen.getByText(/no rack\s+limit can be checked/)).toBeTruthy();
  });
});
