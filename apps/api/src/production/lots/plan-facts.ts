import type { SqlExecutor } from '../../db/client.ts';
import { statusOfTanks } from '../../lab/baths/index.ts';
import { readLineFacts, type LineFacts } from './plan-queries.ts';

const stateNames: Readonly<Record<string, string>> = { stop: 'stopped', 'on-hold': 'on hold' };

/** What a load plan is made from, with what speaks against working in the bath of each tank now. */
export async function readPlanFacts(execute: SqlExecutor, lineId: number): Promise<LineFacts | null> {
  const facts = await readLineFacts(execute, lineId);
  if (facts === null) return null;
  const needed = new Set(facts.steps.map(({ contents }) => contents));
  const tanks = facts.tanks.filter(({ contents, hasBath }) => hasBath && needed.has(contents));
  const statuses = await statusOfTanks(
    execute,
    tanks.map(({ id }) => id),
  );
  return {
    ...facts,
    tanks: facts.tanks.map((tank) => {
      const status = statuses.get(tank.id);
      if (!status?.needsOverride) return tank;
      const state = stateNames[status.state] ?? 'overdue for an analysis';
      return {
        ...tank,
        bathIsStopped: status.state === 'stop',
        bathDoubt: `bath is ${state}: ${status.reasons.join('; ')}`,
      };
    }),
  };
}
