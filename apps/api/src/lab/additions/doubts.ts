import { additionDoubts, type LevelMove, portionGate } from '@huelot/calc';
import { additionDoubtWords, type PlannedStep } from '@huelot/contracts';
import type { Tx } from '../../db/client.ts';
import { readSetupsOf } from '../baths/index.ts';
import { readTankLimits } from './stop-queries.ts';

/** A step that warms a bath by less needs no gate. */
const MIN_RISE_K = 1;

/** What was read at the tank; null is not judged. */
interface Readings {
  volumeL: number | null;
  beforeC: number | null;
  afterC: number | null;
}

/**
 * What speaks against an addition by the room and the temperatures of its tank, one sentence each. `steps` are those of the
 * plan, for the heat of a portion; `moves` what goes in and out.
 */
export async function doubtsOfAddition(
  tx: Tx,
  input: { bathId: number; moves: readonly LevelMove[]; steps: readonly PlannedStep[]; readings: Readings },
): Promise<string[]> {
  const { bathId, moves, steps, readings } = input;
  const { maxC, brimL } = await readTankLimits(tx.execute, bathId);
  const setup = (await readSetupsOf(tx.execute, [bathId])).get(bathId);
  const warming = steps.flatMap(({ riseK, portions }) =>
    riseK === null || riseK < MIN_RISE_K ? [] : riseK / portions,
  );
  const stopAboveC =
    warming.length === 0 || setup === undefined
      ? null
      : portionGate({
          workingTemperatureC: setup.workingTemperatureC,
          maxC,
          riseK: Math.max(...warming),
        }).stopAboveC;
  const roomL = setup === undefined ? brimL : Math.min(brimL, setup.fullVolumeL + setup.freeboardL);
  return additionDoubts({ ...readings, moves, roomL, stopAboveC, maxC }).map(additionDoubtWords);
}
