import { CALC_VERSION, figureWords, impossibleAmount } from '@huelot/calc';
import type { BathSetup, NotebookMapping, NotebookPreview, previewNotebook } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type SqlExecutor } from '../../db/client.ts';
import { nextNumbers } from '../../db/numbers.ts';
import { orNotFound, fieldError } from '../../kernel/refusal.ts';
import { addAnalyses, computeAnalysis } from '../analyses/index.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { type BathRow, lockBath, readBath, readSetupsOf, bumpBathVersion } from '../baths/index.ts';
import { type MethodRow, readMethods } from '../methods/index.ts';
import { instantsOf, readImported } from './queries.ts';
import { type NotebookRow, readNotebook } from './parse.ts';

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
async function read(execute: SqlExecutor, bathId: number, { csv, mapping }: Body): Promise<Read> {
  const bath = orNotFound(await readBath(execute, bathId), `bath ${bathId}`);
  const setup = (await readSetupsOf(execute, [bathId])).get(bathId) ?? null;
  const [method] = (await readMethods(execute, { status: 'in-force', after: null, limit: 500 })).filter(
    ({ kind }) => kind === 'plain',
  );
  if (method === undefined)
    throw fieldError('mapping', 'needs a method in force for figures entered as found');
  const { columns, rows, faults } = readNotebook(csv, mapping);
  const instants = await instantsOf(
    execute,
    rows.map(({ sampledAt }) => sampledAt),
  );
  const entries = rows.flatMap((row, index): Entry[] => {
    const sampledAt = instants[index] ?? '';
    const fault = timeFault(bath, sampledAt);
    if (fault !== null) {
      faults.push({ line: row.line, column: mapping.sampledAt, message: fault });
      return [];
    }
    const wrong = valueFaults(row, mapping);
    if (wrong.length > 0) {
      faults.push(...wrong);
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
  faults.push(...(await twiceFaults(execute, { bathId, entries, mapping })));
  return { columns, entries, faults: faults.sort((a, b) => a.line - b.line), bath, setup, method };
}

/** Figures that no liquid can have: below nothing, or stronger than the strongest. */
const valueFaults = ({ line, readings }: NotebookRow, { values }: NotebookMapping): Read['faults'] =>
  readings.values.flatMap((value) => {
    const bounds = impossibleAmount(value);
    if (bounds === null) return [];
    const words = (figure: number) => figureWords(figure, value.unit);
    const column = values.find(({ component }) => component === value.component)?.column ?? '';
    const message = `${words(value.value)} cannot be: ${words(bounds.low)} to ${words(bounds.high)} is possible`;
    return [{ line, column, message }];
  });

/** The same sample a second time, within the file or beside what an import before it brought. */
async function twiceFaults(
  execute: SqlExecutor,
  { bathId, entries, mapping }: { bathId: number; entries: readonly Entry[]; mapping: NotebookMapping },
): Promise<Read['faults']> {
  const onRecord = new Map(
    (await readImported(execute, bathId)).map(({ sampledAt, number }) => [sampledAt.toISOString(), number]),
  );
  const lineOf = new Map<string, number>();
  return entries.flatMap(({ line, sampledAt }) => {
    const earlier = lineOf.get(sampledAt);
    if (earlier === undefined) lineOf.set(sampledAt, line);
    const number = onRecord.get(new Date(sampledAt).toISOString());
    const message =
      earlier !== undefined
        ? `a sample of this time stands in line ${earlier} already`
        : number === undefined
          ? null
          : `a sample of this time was imported already, as ${number}`;
    return message === null ? [] : [{ line, column: mapping.sampledAt, message }];
  });
}

function timeFault(bath: BathRow, sampledAt: string): string | null {
  const at = Date.parse(sampledAt);
  if (Number.isNaN(at)) return 'is not a date';
  if (at > Date.now()) return 'is in the future';
  if (at < bath.madeUpAt.getTime()) return `is before ${bath.number} was made up`;
  return bath.dumpedAt !== null && at > bath.dumpedAt.getTime() ? `is after ${bath.number} was dumped` : null;
}

/** What a notebook would bring, without storing anything. */
export async function preview(
  execute: SqlExecutor,
  { bathId, input }: { bathId: number; input: Body },
): Promise<NotebookPreview> {
  const { columns, entries, faults } = await read(execute, bathId, input);
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
  { actor, bathId, input }: { actor: Actor; bathId: number; input: Body },
): Promise<{ analyses: number; results: number }> {
  return inTransaction(db, async (tx) => {
    await lockBath(tx.execute, bathId);
    const { entries, faults, bath, setup, method } = await read(tx.execute, bathId, input);
    const [first] = faults;
    if (first !== undefined)
      throw fieldError(
        'csv',
        `line ${first.line}, ${first.column}: ${first.message}. ${faults.length} faults in all; nothing was stored`,
      );
    if (entries.length === 0) throw fieldError('csv', 'has no line below the column names');
    const numbers = await nextNumbers(tx.execute, { kind: 'analysis', count: entries.length });
    await addAnalyses(
      tx.execute,
      entries.map(({ sampledAt, analyst, notes, readings, results }, index) => ({
        row: {
          number: numbers[index] ?? '',
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
    await bumpBathVersion(tx.execute, bathId);
    await writeAudit(tx.execute, actor, {
      kind: 'bath',
      id: bathId,
      number: bath.number,
      action: `imported ${entries.length} past analyses`,
    });
    return {
      analyses: entries.length,
      results: entries.reduce((sum, { results }) => sum + results.length, 0),
    };
  });
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
