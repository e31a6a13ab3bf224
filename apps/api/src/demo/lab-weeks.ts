import { density, massFractionFrom } from '@huelot/calc';
import type { Analysis, NewBathSetup, PlannedStep, Solute } from '@huelot/contracts';
import { sql, type Db } from '../db/client.ts';
import { completeAddition, planAddition } from '../lab/additions/index.ts';
import { recordAnalysis, reviewAnalysis } from '../lab/analyses/index.ts';
import { readBath, readUse, releaseHold, setBathSetup } from '../lab/baths/index.ts';
import { DomainError } from '../kernel/refusal.ts';
import { withoutTriggers, type Timeline } from './backdate.ts';
import type { Random } from './chance.ts';
import type { Equipment } from './equipment.ts';
import { DAY, HOUR } from './job.ts';
import { holdSeal } from './lab-holds.ts';
import { simulatedBaths, type SimulatedBath } from './lab-baths.ts';
import { setups, shelf as stock, type WatchedTank } from './lab-book.ts';
import { seedLabReports } from './lab-report.ts';
import { seedChemicals, type Shelf } from './lab-shelf.ts';
import type { Actors } from './people.ts';

interface Lab {
  db: Db;
  actors: Actors;
  story: Timeline;
  chance: Random;
  shelf: Shelf;
}

/**
 * Three months of the wet lab: every bath analysed in its turn, worn by the work that went through it, and what falls short
 * added. Call it when the jobs are settled.
 */
export async function seedLabWeeks(
  db: Db,
  options: { actors: Actors; story: Timeline; chance: Random; equipment: Equipment; since: number },
): Promise<void> {
  const { actors, story, chance, since } = options;
  const shelf = await seedChemicals(db, { actors, story, since });
  const lab: Lab = { db, actors, story, chance, shelf };
  const baths: { bath: SimulatedBath; id: number; due: number }[] = [];
  for (const [at, bath] of simulatedBaths(shelf).entries()) {
    const tankId = options.equipment.tankIds.get(bath.tank) ?? 0;
    const { id, version } = await db.prisma.bath.findFirstOrThrow({ where: { tankId, dumpedAt: null } });
    await story.at(since + (at + 1) * HOUR, () =>
      setBathSetup(db, { actor: actors.lena, bathId: id, version, input: setups[bath.tank] }),
    );
    baths.push({ bath, id, due: morningOf(since + 2 * DAY) + at * 0.2 * HOUR });
  }
  for (;;) {
    const next = baths.reduce((first, one) => (one.due < first.due ? one : first));
    // An addition with its confirming analysis takes the better part of a shift.
    if (next.due > Date.now() - 9 * HOUR) break;
    await analyseAndAdd(lab, next);
    const from = next.due;
    next.due = morningOf(from + next.bath.everyDays * DAY) + chance.between(0, 3) * HOUR;
    const between = { bathId: next.id, since: new Date(from), until: new Date(next.due) };
    const [booked] = await readUse(db.execute, [between]);
    if (booked === undefined) throw new Error('every asked stretch has an answer');
    next.bath.pass({ ...booked, days: (next.due - from) / DAY });
  }
  const bathOf = (tank: WatchedTank) => baths.find(({ bath }) => bath.tank === tank)?.id ?? 0;
  await seedLabReports(db, {
    actors,
    story,
    bathId: bathOf('T6'),
    methodId: shelf.methodIds.get('AS-FOUND') ?? 0,
  });
  await holdSeal(db, { actors, story, bathId: bathOf('T13') });
  await story.settle();
  await rememberStates(db);
}

/** Five o'clock UTC of the day, when the early shift begins: an addition with its confirming analysis then ends by daylight. */
const morningOf = (time: number): number => Math.floor(time / DAY) * DAY + 5 * HOUR;

async function analyseAndAdd(
  lab: Lab,
  options: { bath: SimulatedBath; id: number; due: number; why?: 'after-addition' },
): Promise<Analysis> {
  const { db, actors, story, chance, shelf } = lab;
  const { bath, id, due } = options;
  const when = (minutes: number) => new Date(due + minutes * 60_000).toISOString();
  const setup = setups[bath.tank];
  const readings = bath.readings(chance);
  const recorded = (answer: string) =>
    recordAnalysis(db, {
      actor: actors.lena,
      bathId: id,
      input: {
        methodId: shelf.methodIds.get(bath.method) ?? 0,
        sampledAt: when(0),
        analysedAt: when(15),
        why: options.why ?? 'schedule',
        samplePoint: 'middle of the tank',
        volumeL: setup.fullVolumeL,
        agitation: true,
        bathTemperatureC: setup.workingTemperatureC,
        readings,
        titrantId: bath.titrantId,
        instrumentId: bath.instrumentId,
        answer,
        notes: '',
      },
    });
  const analysis = await story.at(due + 20 * 60_000, () =>
    recorded('').catch((fault: unknown) => {
      // Flasks that disagree are read again, and stand.
      if (!(fault instanceof DomainError)) throw fault;
      return recorded('both flasks read again by a second person: they stand');
    }),
  );
  if (chance.happens(0.3))
    await story.at(due + 40 * 60_000, () => reviewAnalysis(db, { actor: actors.quentin, id: analysis.id }));
  const { correction } = bath;
  const value = analysis.results[0]?.value ?? 0;
  if (correction !== null && value < correction.below) await add(lab, { ...options, analysis, correction });
  return analysis;
}

async function add(
  lab: Lab,
  options: {
    bath: SimulatedBath;
    id: number;
    due: number;
    analysis: Analysis;
    correction: NonNullable<SimulatedBath['correction']>;
  },
): Promise<void> {
  const { db, actors, story, shelf } = lab;
  const { bath, id, due, analysis, correction } = options;
  const { solute, fullVolumeL, freeboardL, workingTemperatureC, components, impurity } = setups[bath.tank];
  const [main] = components;
  if (solute === null || main === undefined) return;
  const watched = analysis.results.find(({ component }) => component === impurity?.component)?.value ?? 0;
  const inGrams = main.unit === 'gramsPerLitre';
  const value = analysis.results[0]?.value ?? 0;
  const before = inGrams
    ? // Both ends of the plan on one density: that of the solute alone, in which the target is given too.
      {
        volumeL: fullVolumeL,
        massFraction: massFractionFrom({ solute, gramsPerLitre: value, temperatureC: 20 }).massFraction,
      }
    : asItStands({ solute, setup: setups[bath.tank], massFraction: value, target: main.target ?? value });
  const plan = await story.at(due + HOUR, async () =>
    planAddition(db, {
      actor: actors.lena,
      bathId: id,
      version: (await readBath(db.execute, id))?.version ?? 0,
      input: {
        kind: 'chemical',
        fromAnalysisId: analysis.id,
        request: {
          type: 'strength',
          ...{ solute, fullVolumeL, freeboardL },
          ...before,
          temperatureC: workingTemperatureC,
          targetMassFraction: inGrams ? null : main.target,
          targetGramsPerLitre: inGrams ? main.target : null,
          referenceTemperatureC: inGrams ? 20 : null,
          chemicalLotId: shelf.lots.get(correction.lot) ?? 0,
          fillToMark: false,
          impurity:
            impurity !== null && watched > 1.15 * impurity.aimGramsPerLitre
              ? { gramsPerLitre: watched, targetGramsPerLitre: impurity.aimGramsPerLitre }
              : null,
          coldestTemperatureC: null,
          uncertainty: { massFraction: 0.0005, volumeL: fullVolumeL / 400 },
        },
        steps: null,
        reason: inGrams
          ? ''
          : 'the level fell overnight: the strength found is counted for the water that went',
      },
    }),
  );
  const lines = plan.steps.flatMap((step) => lineOf(step));
  if (lines.length === 0) return;
  const when = (minutes: number) => new Date(due + minutes * 60_000).toISOString();
  const { hold } = await story.at(due + 2 * HOUR, () =>
    completeAddition(db, {
      actor: actors.lena,
      id: plan.id,
      input: {
        startedAt: when(90),
        finishedAt: when(115),
        temperatureBeforeC: workingTemperatureC,
        temperatureAfterC: workingTemperatureC + Math.round(plan.computed?.temperatureRiseK ?? 0),
        volumeBeforeL: before.volumeL,
        volumeAfterL: plan.computed?.bathAfter?.volumeL ?? null,
        lines,
        checker: plan.needsSecondPerson ? { personId: actors.omar.personId, pin: '4070' } : null,
        reason: '',
        notes: '',
      },
    }),
  );
  const sum = (action: string) =>
    lines.reduce((total, line) => total + (line.action === action ? line.kg : 0), 0);
  correction.take(sum('decant') / (plan.computed?.bathBefore?.kg ?? 1), sum('add-stock'));
  // The confirming sample, four hours later.
  const confirming = await analyseAndAdd(lab, {
    bath: { ...bath, correction: null },
    id,
    due: due + 6 * HOUR,
    why: 'after-addition',
  });
  if (hold !== null)
    await story.at(due + 7 * HOUR, () =>
      releaseHold(db, {
        actor: actors.lena,
        id: hold.id,
        input: {
          temperatureC: workingTemperatureC,
          mixedS: 4 * 3600,
          analysisId: confirming.id,
          note: '',
        },
      }),
    );
}

/** A hot bath in the morning: so much water went overnight, and is not filled up, as the flake that is lacking will take. */
function asItStands({
  solute,
  setup,
  massFraction,
  target,
}: {
  solute: Solute;
  setup: Pick<NewBathSetup, 'fullVolumeL' | 'workingTemperatureC'>;
  massFraction: number;
  target: number;
}) {
  const { kgPerM3 } = density({ solute, massFraction, temperatureC: setup.workingTemperatureC });
  const fullKg = (setup.fullVolumeL * kgPerM3) / 1000;
  const evaporatedKg = ((target - massFraction) * fullKg) / stock.flake.facts.assayMassFraction;
  return {
    volumeL: setup.fullVolumeL - evaporatedKg,
    massFraction: (massFraction * fullKg) / (fullKg - evaporatedKg),
  };
}

function lineOf({ action, heldBack, kg, volumeL, chemicalLotId }: PlannedStep) {
  if (heldBack || (action !== 'decant' && action !== 'add-water' && action !== 'add-stock')) return [];
  const waste = {
    category: 'acid',
    destination: 'own treatment',
    document: '',
    volumeL: volumeL ?? 0,
  } as const;
  return [
    {
      action,
      chemicalLotId,
      kg,
      volumeL,
      measured: action === 'add-stock' ? ('weighed' as const) : ('by-level' as const),
      waste: action === 'decant' ? waste : null,
    },
  ];
}

/** The steps of the story were signed before the lab’s part of it was told: they get the state of the last analysis. */
const rememberStates = (db: Db): Promise<void> =>
  withoutTriggers(db, (execute) =>
    execute(sql`
      update "step_sign_off" s set "bathState" = r."state"
        from (select o."id", coalesce(
                (select case when count(*) = 0 then null when bool_or(x."state" = 'stop') then 'stop' when bool_or(x."state" = 'watch') then 'watch' else 'in-range' end
                   from "analysis_result" x
                  where x."analysisId" = (select a."id" from "analysis" a where a."bathId" = o."bathId" and a."sampledAt" <= o."doneAt"
                                           order by a."sampledAt" desc limit 1)),
                o."bathState") as "state"
                from "step_sign_off" o where o."bathId" is not null) r
       where r."id" = s."id" and r."state" is distinct from s."bathState"`),
  );
