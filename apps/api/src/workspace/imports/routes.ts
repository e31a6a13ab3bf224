import { importEndpoints, importUnits, ImportKind, type ImportMeasure } from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile } from '../../http/csv.ts';
import { registerRoute } from '../../http/route.ts';
import { importTable, previewTable, templateHeads } from './import-table.ts';

/** Units that a person fills a template in with, by the units they read. */
const us: Record<ImportMeasure, string> = {
  length: 'in',
  area: 'in2',
  mass: 'lb',
  density: 'lbPerIn3',
  heatCapacity: 'JPerKgK',
  share: 'percent',
};
const metric: Record<ImportMeasure, string> = {
  length: 'mm',
  area: 'cm2',
  mass: 'kg',
  density: 'gPerCm3',
  heatCapacity: 'JPerKgK',
  share: 'percent',
};

export default function imports(app: FastifyInstance): void {
  const { db } = app;
  for (const kind of ImportKind.options) {
    const { preview, run, template } = importEndpoints[kind];
    registerRoute(app, preview, ({ body }) => previewTable(db, { kind, body }));
    registerRoute(app, run, ({ actor, body }) => importTable(db, { actor, kind, body }));
    registerRoute(app, template, ({ actor, reply }) => {
      const chosen = actor.units === 'us' ? us : metric;
      const unitOf = (measure: string) => {
        const units = importUnits[measure as ImportMeasure];
        return units.find(({ key }) => key === chosen[measure as ImportMeasure])?.symbols[0] ?? '';
      };
      return Promise.resolve(
        csvFile(reply, { name: `${kind}-template`, heads: templateHeads(kind, unitOf), rows: [] }),
      );
    });
  }
}
