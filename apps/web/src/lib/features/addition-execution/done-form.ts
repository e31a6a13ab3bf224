import type { Addition, AdditionLine, completeAddition, PlannedStep, StepAction } from '@huelot/contracts';
import type { z } from 'zod';
import type { WasteValues } from '../lab/waste.ts';

type Done = z.output<typeof completeAddition.body>;
export type DoneAction = Done['lines'][number]['action'];

export interface LineValues {
  action: DoneAction;
  chemicalLotId: number | null;
  kg: number | null;
  volumeL: number | null;
  measured: Done['lines'][number]['measured'];
  waste: WasteValues | null;
  /** What was planned, to compare with and to take over; null for a line that was added at the tank. */
  planned: Pick<PlannedStep, 'kg' | 'volumeL' | 'portions' | 'note'> | null;
}
export interface DoneValues {
  startedAt: string | null;
  finishedAt: string | null;
  temperatureBeforeC: number | null;
  temperatureAfterC: number | null;
  volumeBeforeL: number | null;
  volumeAfterL: number | null;
  lines: LineValues[];
  checkerId: number | null;
  pin: string;
  reason: string;
  notes: string;
  /** Hold the bath also where nothing goes in that has to mix. */
  hold: boolean;
}

const doneActions: readonly StepAction[] = ['decant', 'add-water', 'add-stock', 'filter', 'electrode'];
const isDone = (action: StepAction): action is DoneAction => doneActions.includes(action);

const wasteOf = (volumeL: number | null): WasteValues => ({
  volumeL,
  category: 'other',
  destination: '',
  document: '',
});

export const emptyLine = (action: DoneAction): LineValues => ({
  action,
  chemicalLotId: null,
  kg: action === 'filter' || action === 'electrode' ? 0 : null,
  volumeL: null,
  measured: action === 'add-stock' ? 'weighed' : action === 'decant' ? 'by-level' : 'metered',
  waste: action === 'decant' ? wasteOf(null) : null,
  planned: null,
});

/** One line for each thing to add or take; amounts are typed as they really were. */
export const newValues = (addition: Addition): DoneValues => ({
  startedAt: new Date().toISOString(),
  finishedAt: new Date().toISOString(),
  temperatureBeforeC: null,
  temperatureAfterC: null,
  volumeBeforeL: null,
  volumeAfterL: null,
  lines: addition.steps.flatMap(({ action, chemicalLotId, heldBack, ...planned }) => {
    if (heldBack || !isDone(action)) return [];
    const line = emptyLine(action);
    const measured =
      action === 'add-stock' && planned.volumeL !== null ? ('metered' as const) : line.measured;
    return [{ ...line, chemicalLotId, measured, planned }];
  }),
  checkerId: null,
  pin: '',
  reason: '',
  notes: '',
  hold: false,
});

const lineOf = ({ action, chemicalLotId, kg, volumeL, measured, waste }: AdditionLine): LineValues => ({
  action,
  chemicalLotId,
  kg,
  volumeL,
  measured,
  waste: waste && { ...waste },
  planned: null,
});

/** The form of a correction begins with what was booked. */
export const valuesOf = (done: NonNullable<Addition['done']>): DoneValues => ({
  startedAt: done.startedAt,
  finishedAt: done.finishedAt,
  temperatureBeforeC: done.temperatureBeforeC,
  temperatureAfterC: done.temperatureAfterC,
  volumeBeforeL: done.volumeBeforeL,
  volumeAfterL: done.volumeAfterL,
  lines: done.lines.map(lineOf),
  checkerId: null,
  pin: '',
  reason: '',
  notes: done.notes,
  hold: false,
});

/** As it is sent: what is missing goes along as null and is refused by the name of its field. */
export const bodyOf = ({ lines, checkerId, pin, hold: _, ...values }: DoneValues): Done =>
  ({
    ...values,
    lines: lines.map(({ planned: _, waste, ...line }) => ({
      ...line,
      waste: waste && { ...waste, volumeL: line.volumeL },
    })),
    checker: checkerId === null ? null : { personId: checkerId, pin },
  }) as Done;
