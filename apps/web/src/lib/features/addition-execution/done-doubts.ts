import { additionDoubts } from '@huelot/calc';
import { additionDoubtWords, type AdditionSheet, type PlannedStep } from '@huelot/contracts';
import { gateOf, roomOf, stepMoves } from '../addition-plan/plan-doubts.ts';
import type { DoneValues } from './done-form.ts';

interface Done {
  sheet: Pick<AdditionSheet, 'setup' | 'tankLimits'>;
  steps: readonly PlannedStep[];
  values: Pick<DoneValues, 'lines' | 'temperatureBeforeC' | 'temperatureAfterC' | 'volumeBeforeL'>;
}

/** What speaks against what was done, while it is typed. */
export function doneDoubts({ sheet, steps, values }: Done): string[] {
  const gates = steps.flatMap((step) => gateOf(step, { sheet }) ?? []);
  const doubts = additionDoubts({
    volumeL: values.volumeBeforeL,
    moves: stepMoves(values.lines),
    roomL: roomOf(sheet),
    beforeC: values.temperatureBeforeC,
    afterC: values.temperatureAfterC,
    stopAboveC: gates.length === 0 ? null : Math.min(...gates.map(({ stopAboveC }) => stopAboveC)),
    maxC: sheet.tankLimits.maxC,
  });
  return doubts.map(additionDoubtWords);
}
