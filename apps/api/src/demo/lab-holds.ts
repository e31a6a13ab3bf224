import type { Db } from '../db/client.ts';
import { placeHold } from '../lab/baths/index.ts';
import type { Timeline } from './backdate.ts';
import { HOUR } from './job.ts';
import type { Actors } from './people.ts';

/**
 * This morning the seal is held by judgement. Only the seal: whoever tries the shop out signs titanium at the other
 * tanks, and should not meet a held bath on the first day.
 */
export const holdSeal = (
  db: Db,
  { actors, story, bathId }: { actors: Actors; story: Timeline; bathId: number },
): Promise<unknown> =>
  story.at(Date.now() - 3 * HOUR, () =>
    placeHold(db, {
      actor: actors.lena,
      bathId,
      input: { additionId: null, reason: 'cloudy this morning: filter it and look again' },
    }),
  );
