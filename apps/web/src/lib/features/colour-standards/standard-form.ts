import type { ColourGrade, ColourStandard, ColourTolerance, NewColourStandard } from '@huelot/contracts';
import type { MeasuringConditions } from '@huelot/contracts';
import type { TypedLab } from '$lib/format/colour-faults.ts';

/** A standard as it is typed. */
export interface StandardValues {
  code: string;
  customerId: number | null;
  name: string;
  hasFigures: boolean;
  target: TypedLab;
  light: TypedLab;
  dark: TypedLab;
  conditions: MeasuringConditions;
  instrument: string;
  tolerance: {
    [K in keyof ColourTolerance]: ColourTolerance[K] extends number ? number | null : ColourTolerance[K];
  };
  hasSample: boolean;
  sample: { name: string; keptAt: string };
  photoId: number | null;
  grade: ColourGrade;
  agreedBy: string;
  agreedOn: string;
  expiresOn: string;
  notes: string;
  changeNote: string;
}

const nothing = (): TypedLab => ({ L: null, a: null, b: null });

export const emptyStandard = (customerId: number | null): StandardValues => ({
  code: '',
  customerId,
  name: '',
  hasFigures: true,
  target: nothing(),
  light: nothing(),
  dark: nothing(),
  conditions: { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 },
  instrument: '',
  tolerance: { from: 'target', deltaE: 3, kL: 1, kC: 1, kH: 1 },
  hasSample: false,
  sample: { name: '', keptAt: '' },
  photoId: null,
  grade: 'measured',
  agreedBy: '',
  agreedOn: '',
  expiresOn: '',
  notes: '',
  changeNote: '',
});

export function valuesOf(standard: ColourStandard): StandardValues {
  const empty = emptyStandard(standard.customer?.id ?? null);
  const { code, name, instrument, grade, agreedBy, notes, changeNote } = standard;
  return {
    ...empty,
    ...{ code, name, instrument, grade, agreedBy, notes, changeNote },
    hasFigures: standard.target !== null,
    target: { ...(standard.target ?? empty.target) },
    light: { ...(standard.light ?? empty.light) },
    dark: { ...(standard.dark ?? empty.dark) },
    conditions: { ...(standard.conditions ?? empty.conditions) },
    tolerance: { ...(standard.tolerance ?? empty.tolerance) },
    hasSample: standard.sample !== null,
    sample: { ...(standard.sample ?? empty.sample) },
    photoId: standard.photo?.id ?? null,
    agreedOn: standard.agreedOn ?? '',
    expiresOn: standard.expiresOn ?? '',
  };
}

const typed = (lab: TypedLab) => (Object.values(lab).every((value) => value === null) ? null : lab);

/** As it is sent: an end of which nothing is typed is none. What is missing the server names. */
export function bodyOf({ hasFigures, hasSample, ...values }: StandardValues): NewColourStandard {
  return {
    ...values,
    target: hasFigures ? values.target : null,
    light: hasFigures ? typed(values.light) : null,
    dark: hasFigures ? typed(values.dark) : null,
    conditions: hasFigures ? values.conditions : null,
    instrument: hasFigures ? values.instrument : '',
    tolerance: hasFigures ? values.tolerance : null,
    sample: hasSample ? values.sample : null,
    agreedOn: values.agreedOn || null,
    expiresOn: values.expiresOn || null,
  } as NewColourStandard;
}
