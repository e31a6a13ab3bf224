import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { readUsableRevisions } from '../../catalog/recipes/index.ts';
import { registerRoute } from '../../http/route.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readFilmThicknesses } from '../film-measurements/index.ts';
import { isLookedAt, readTrials } from '../coupons/index.ts';
import { boxesOf } from './boxes.ts';
import * as queries from './queries.ts';

export default function processMaps(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listProcessMaps, async () => ({
    items: await queries.readGrounds(db.execute),
  }));
  registerRoute(app, contract.getProcessMap, async ({ params }) => {
    const ground = orNotFound(await queries.readGround(db.execute, params.id), `process map ${params.id}`);
    const trials = await readTrials(
      db.execute,
      ground.series.map(({ id }) => id),
    );
    const codeOf = new Map(ground.series.map(({ id, code }) => [id, code]));
    const thicknessOf = await readFilmThicknesses(db.execute, [...new Set(codeOf.values())]);
    const revisions = (await readUsableRevisions(db)).filter(({ recipe }) =>
      recipe.baseMetals.includes(ground.material.baseMetal),
    );
    return {
      ...ground,
      trials: [...trials].flatMap(([seriesId, made]) =>
        made.filter(isLookedAt).map((trial) => ({
          ...{ ...trial, seriesId },
          thickness: thicknessOf(codeOf.get(seriesId) ?? '', trial),
        })),
      ),
      boxes: revisions.flatMap((revision) => boxesOf(revision, ground.contents)),
    };
  });
}
