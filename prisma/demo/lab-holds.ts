import type { Db } from '../../apps/api/src/db/client.ts';
import { doAddition } from '../../apps/api/src/domains/additions/done.ts';
import { planAddition } from '../../apps/api/src/domains/additions/plan.ts';
import { placeHold } from '../../apps/api/src/domains/baths/holds.ts';
import { readBath } from '../../apps/api/src/domains/baths/queries.ts';
import type { Story } from './backdate.ts';
import { HOUR } from './job.ts';
import { setups, type WatchedTank } from './lab-book.ts';
import type { Actors } from './people.ts';

/** This morning: the seal is held by judgement, and water for what evaporated mixes into the phosphate. */
export async function holdTwo(
  db: Db,
  of: { actors: Actors; story: Story; bathIds: ReadonlyMap<WatchedTank, number> },
): Promise<void> {
  const { story, bathIds } = of;
  const actor = of.actors.lena;
  const ago = (hours: number) => Date.now() - hours * HOUR;
  const seal = bathIds.get('T13') ?? 0;
  await story.at(ago(3), () =>
    placeHold(db, {
      actor,
      bathId: seal,
      input: { additionId: null, reason: 'cloudy this morning: filter it and look again' },
    }),
  );
  const phosphate = bathIds.get('T4') ?? 0;
  const { fullVolumeL } = setups.T4;
  const plan = await story.at(ago(2), async () =>
    planAddition(db, {
      actor,
      bathId: phosphate,
      version: (await readBath(db.run, phosphate))?.version ?? 0,
      input: {
        kind: 'water',
        fromAnalysisId: null,
        request: {
          type: 'level',
          solute: null,
          volumeL: fullVolumeL - 16,
          fullVolumeL,
          temperatureC: 20,
          massFractionWhenFull: null,
        },
        steps: null,
        reason: '',
      },
    }),
  );
  await story.at(ago(1), () =>
    doAddition(db, {
      actor,
      id: plan.id,
      once: null,
      input: {
        startedAt: new Date(ago(1.4)).toISOString(),
        finishedAt: new Date(ago(1.1)).toISOString(),
        temperatureBeforeC: 20,
        temperatureAfterC: 20,
        volumeBeforeL: fullVolumeL - 16,
        volumeAfterL: fullVolumeL,
        lines: [
          {
            action: 'add-water',
            chemicalLotId: null,
            kg: 16,
            volumeL: 16,
            measured: 'metered',
            waste: null,
          },
        ],
        checker: null,
        reason: '',
        notes: '',
      },
    }),
  );
}
