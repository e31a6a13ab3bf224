import { CALC_VERSION } from '@huelot/calc';
import type { BathSetup, NotebookMapping, NotebookPreview, previewNotebook } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Run } from '../../db/client.ts';
import { nextNumbers } from '../../db/numbers.ts';
import { answerOnce } from '../../http/once.ts';
import type { OnceKey } from '../../http/route.ts';
import { found, invalid } from '../../refusal.ts';
import { addAnalyses, computeAnalysis } from '../analyses/index.ts';
import { record } from '../audit/index.ts';
import { type BathRow, lockBath, readBath, readSetupsOf, touchBath } from '../baths/index.ts';
import { type MethodRow, readMethods } from '../methods/index.ts';
import { instantsOf } from './notebook-queries.ts';
import { type NotebookRow, readNotebook } from './read-notebook.ts';

type Body = z.output<typeof previewNotebook.body>;
interface Entry extends NotebookRow {
  results: ReturnType<typeof computeAnalysis>['results'];
}
interface Read {
  columns: string[];
  entries: Entry[];
  faults: NotebookPreview['faults'];
  bath: BathRow;
  setup: BathSetup | null;
  method: MethodRow;
}

const shownRows = 50;
const shownFaults = 200;

/** Reads a notebook against its bath: every cell, and whether the samples can be of this fill. */
async function read(run: Run, bathId: number, { csv, mapping }: Body): Promise<Read> {
  const bath = found(await readBath(run, bathId), `bath ${bathId}`);
  const setup = (await readSetupsOf(run, [bathId])).get(bathId) ?? null;
  const [method] = (await readMethods(run, { status: 'in-force', after: null, limit: 500 })).filter(
    ({ kind }) => kind === 'plain',
  );
  if (method === undefined) throw invalid('mapping', 'needs a method in force for figures entered as found');
  const { columns, rows, faults } = readNotebook(csv, mapping);
  const instants = await instantsOf(
    run,
    rows.map(({ sampledAt }) => sampledAt),
  );
  const entries = rows.flatMap((row, at): Entry[] => {
    const sampledAt = instants[at] ?? '';
    const fault = timeFault(bath, sampledAt);
    if (fault !== null) {
      faults.push({ line: row.line, column: mapping.sampledAt, message: fault });
      return [];
    }
    const { results } = computeAnalysis({
      readings: row.readings,
      settings: method.settings,
      titrant: null,
      setup,
    });
    return [{ ...row, sampledAt, results }];
  });
  return { columns, entries, faults: faults.sort((a, b) => a.line - b.line), bath, setup, method };
}

function timeFault(bath: BathRow, sampledAt: string): string | null {
  const at = Date.parse(sampledAt);
  if (Number.isNaN(at)) return 'is no day that a calendar knows';
  if (at > Date.now()) return 'lies in the future';
  if (at < bath.madeUpAt.getTime()) return `lies before ${bath.number} was made up`;
  return bath.dumpedAt !== null && at > bath.dumpedAt.getTime()
    ? `lies after ${bath.number} was dumped`
    : null;
}

/** What a notebook would bring, without storing anything. */
export async function preview(run: Run, of: { bathId: number; input: Body }): Promise<NotebookPreview> {
  const { columns, entries, faults } = await read(run, of.bathId, of.input);
  return {
    columns,
    rows: entries.length,
    sample: entries
      .slice(0, shownRows)
      .map(({ line, sampledAt, analyst, results, notes }) => ({ line, sampledAt, analyst, results, notes })),
    faults: faults.slice(0, shownFaults),
    faultCount: faults.length,
  };
}

/** Stores a notebook, all of it or nothing: each line an analysis of figures as found. */
export function importNotebook(
  db: Db,
  of: { actor: Actor; bathId: number; input: Body; once: OnceKey | null },
): Promise<{ analyses: number; results: number }> {
  const { actor, bathId, input, once } = of;
  return inTransaction(db, (tx) =>
    answerOnce({ run: tx.run, personId: actor.personId, once }, async () => {
      await lockBath(tx.run, bathId);
      const { entries, faults, bath, setup, method } = await read(tx.run, bathId, input);
      const [first] = faults;
      if (first !== undefined)
        throw invalid(
          'csv',
          `line ${first.line}, ${first.column}: ${first.message}. ${faults.length} faults in all; nothing was stored`,
        );
      if (entries.length === 0) throw invalid('csv', 'holds no line below the heads of the columns');
      const numbers = await nextNumbers(tx.run, { kind: 'analysis', count: entries.length });
      await addAnalyses(
        tx.run,
        entries.map(({ sampledAt, analyst, notes, readings, results }, at) => ({
          row: {
            number: numbers[at] ?? '',
            bathId,
            methodId: method.id,
            sampledAt: new Date(sampledAt),
            analysedAt: new Date(sampledAt),
            analystId: actor.personId,
            analystName: analyst === '' ? null : analyst,
            why: 'notebook' as const,
            samplePoint: '',
            volumeL: null,
            agitation: null,
            bathTemperatureC: null,
            readings,
            standardisationId: null,
            instrumentId: null,
            setupRevision: setup?.revision ?? null,
            densityKgPerM3: null,
            questions: [],
            flags: [],
            answer: '',
            notes,
            calcVersion: CALC_VERSION,
            supersedesId: null,
            supersedeReason: null,
          },
          results,
        })),
      );
      await touchBath(tx.run, bathId);
      await record(tx.run, actor, {
        kind: 'bath',
        id: bathId,
        number: bath.number,
        action: `carried over ${entries.length} analyses from a notebook`,
      });
      return {
        analyses: entries.length,
        results: entries.reduce((sum, { results }) => sum + results.length, 0),
      };
    }),
  );
}

/** The head of a file to fill in: a column for each component. */
export function templateHeads(setup: BathSetup | null): string[] {
  const symbol: Partial<Record<NotebookMapping['values'][number]['unit'], string>> = {
    massFraction: 'wt%',
    gramsPerLitre: 'g/L',
    molPerLitre: 'mol/L',
    siemensPerM: 'S/m',
    ntu: 'NTU',
  };
  return [
    'sampled at',
    'analyst',
    ...(setup?.components ?? []).map(({ key, unit }) =>
      symbol[unit] === undefined ? key : `${key} ${symbol[unit]}`,
    ),
    'notes',
  ];
}
