import { judgeColour } from '@huelot/calc';
import {
  conditionFault,
  Lab,
  zonesToRead,
  type AgreedColour,
  type ColourGrade,
  type ColourVerdict,
  type JudgedReading,
  type LotColour,
  type NewColourReading,
} from '@huelot/contracts';
import type { TypedLab } from '$lib/format/colour-faults.ts';

/** A reading while it is typed. */
export interface ReadingValues {
  grade: ColourGrade;
  /** Empty: the rest of the piece. */
  zone: string;
  place: string;
  spot: NewColourReading['spot'];
  lab: TypedLab;
  instrumentId: number | null;
  conditions: NonNullable<NewColourReading['conditions']>;
  expandedUncertainty: number | null;
  outcome: ColourVerdict | null;
  confirmed: boolean;
  note: string;
}

/** A new reading begins as the last one was taken, else as the standard was. */
export function startingValues(colour: LotColour): ReadingValues {
  const { readings } = colour;
  const [first] = zonesToRead(colour);
  const agreed = first?.agreed ?? null;
  const last = readings.find(({ grade }) => grade === 'measured');
  return {
    grade: agreed !== null && agreed.target === null ? 'compared' : 'measured',
    zone: first?.zone ?? '',
    ...{ place: '', spot: null, lab: { L: null, a: null, b: null } },
    instrumentId: last?.instrumentId ?? null,
    conditions: last?.conditions ??
      agreed?.conditions ?? { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 },
    expandedUncertainty: last?.expandedUncertainty ?? 0.5,
    ...{ outcome: null, confirmed: false, note: '' },
  };
}

/** What is sent: of every grade only what belongs to it. */
export function toReading(values: ReadingValues): NewColourReading {
  const { grade, zone, place, spot, instrumentId, expandedUncertainty, outcome, confirmed, note, lab } =
    values;
  const typed = Lab.safeParse(lab).data ?? null;
  const measured = grade === 'measured';
  return {
    ...{ zone, place, spot, grade, spectrum: null, confirmed, note },
    // What is half typed goes along, and is refused by its name.
    lab:
      grade === 'measured' ? (typed ?? (lab as NewColourReading['lab'])) : grade === 'photo' ? typed : null,
    conditions: measured ? values.conditions : null,
    instrumentId: measured ? instrumentId : null,
    instrument: '',
    expandedUncertainty: measured ? expandedUncertainty : null,
    outcome: grade === 'compared' ? outcome : null,
  };
}

/** How a typed colour would be judged; null while it cannot be. */
export function previewOf(
  lab: TypedLab,
  expandedUncertainty: number | null,
  {
    agreed,
    conditions,
    guardFactor,
  }: {
    agreed: AgreedColour | null;
    conditions: NonNullable<NewColourReading['conditions']>;
    guardFactor: number;
  },
): (JudgedReading & { verdict: ColourVerdict }) | null {
  const whole = Lab.safeParse(lab).data;
  if (!whole || !agreed?.target || !agreed.tolerance || expandedUncertainty === null) return null;
  if (!(expandedUncertainty > 0)) return null;
  if (conditionFault(conditions, agreed.conditions) !== null) return null;
  const { target, light, dark, tolerance } = agreed;
  const judged = judgeColour({
    reading: whole,
    agreed: { target, light, dark, tolerance: tolerance.deltaE, from: tolerance.from, factors: tolerance },
    ...{ expandedUncertainty, guardFactor },
  });
  return { ...judged, limit: tolerance.deltaE, guardFactor };
}
