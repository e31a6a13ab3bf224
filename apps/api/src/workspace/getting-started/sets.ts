import {
  baseMetalNames,
  contentsNames,
  familyNames,
  type PageRef,
  type StarterRow,
  type StarterSet,
  type StarterSetKey,
} from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { startingLibrary } from '../../catalog/materials/index.ts';
import { currentRates } from '../../catalog/rates/index.ts';
import { readNamed } from './queries.ts';
import { starterChemicals } from './starter/chemicals.ts';
import { starterRacks, starterSupplies } from './starter/equipment.ts';
import { exampleRates } from './starter/rates.ts';
import { starterRecipes } from './starter/recipes.ts';
import { type Figures, exampleSize } from './starter/starter.ts';
import { starterTanks } from './starter/tanks.ts';

type Row = Omit<StarterRow, 'there'> & {
  /** What makes the record one of a kind: its code, or its name. */
  one: string;
};
const figure = (label: string, quantity: Figures[number]['quantity'], value: number) => ({
  label,
  quantity,
  value,
});
const trust = ({ key, source, evidence }: Pick<StarterRow, 'key' | 'source' | 'evidence'>) => ({
  key,
  source,
  evidence,
});
export const materialKey = ({ name, condition }: { name: string; condition: string }) =>
  [name, condition].filter(Boolean).join(', ');

const sets: Record<StarterSetKey, { title: string; lead: string; rows: readonly Row[] }> = {
  materials: {
    title: 'Materials',
    lead: 'Alloys in a condition with their source. M is from memory: check it before anything tight rests on it.',
    rows: startingLibrary.map((facts) => ({
      ...{ key: materialKey(facts), one: materialKey(facts), name: materialKey(facts) },
      ...{ source: facts.source, evidence: facts.evidence, detail: facts.designation },
      figures: [
        figure('density', 'metalDensity', facts.densityKgPerM3),
        figure('heat capacity in J/(kg K)', null, facts.heatCapacityJPerKgK),
      ],
    })),
  },
  tanks: {
    title: 'Tanks',
    lead: 'A small line of example size. Take those you have, then put their own size in: a load is limited by it.',
    rows: starterTanks.map(({ facts, ...starter }) => ({
      ...trust(starter),
      ...{ one: facts.code, name: `${facts.code} ${facts.name}`, detail: contentsNames[facts.contents] },
      figures: [
        figure('holds', 'volume', facts.workingVolumeL),
        ...(facts.heaterKw > 0 ? [figure('heater', 'power', facts.heaterKw)] : []),
      ],
    })),
  },
  supplies: {
    title: 'Power supplies',
    lead: 'Of example size, each connected to the tanks that hold what it is for. Put what is on the plate of your own in.',
    rows: starterSupplies.map(({ facts, ...starter }) => ({
      ...trust(starter),
      ...{
        one: facts.code,
        name: `${facts.code} ${facts.name}`,
        detail: `for ${contentsNames[facts.contents]}`,
      },
      figures: [figure('up to', 'voltage', facts.maxVoltageV), figure('up to', 'current', facts.maxCurrentA)],
    })),
  },
  racks: {
    title: 'Racks',
    lead: 'Of example size. Hooks and window limit a load: measure your own.',
    rows: starterRacks.map(({ facts, ...starter }) => ({
      ...trust(starter),
      ...{ one: facts.code, name: `${facts.code} ${facts.name}`, detail: baseMetalNames[facts.baseMetal] },
      figures: [
        figure('hooks', null, facts.hooks ?? 0),
        figure('window', 'equipmentLength', facts.windowWidthMm),
        figure('by', 'equipmentLength', facts.windowHeightMm),
      ],
    })),
  },
  rates: {
    title: 'Rates',
    lead: 'Examples to be replaced. They are made up, so that a trial can be priced; nothing in them is of your shop.',
    rows: [
      {
        ...{ key: 'example', one: 'rates', name: 'Example rates', source: exampleSize, evidence: 'C' },
        detail: 'one card with all three families',
        figures: [
          figure('an hour of labour', null, exampleRates.labourPerHour),
          figure('smallest lot', null, exampleRates.minimumLot),
          figure('margin', 'share', exampleRates.marginShare),
        ],
      },
    ],
  },
  recipes: {
    title: 'Recipes',
    lead: 'Drafts from the literature, not proved here: never approved by taking them over. Prove each on coupons first.',
    rows: starterRecipes.map(({ facts, ...starter }) => ({
      ...trust(starter),
      ...{
        one: facts.name,
        name: facts.name,
        detail: `${familyNames[facts.family]}, ${facts.steps.length} steps`,
      },
      figures: facts.steps.flatMap(({ kind, electrical }) =>
        electrical === null || (kind !== 'colour' && kind !== 'anodize')
          ? []
          : electrical.mode === 'voltage'
            ? [figure('at', 'voltage', electrical.programme.at(-1)?.to ?? 0)]
            : [figure('at', 'currentDensity', electrical.peakCurrentDensityAPerM2)],
      ),
    })),
  },
  chemicals: {
    title: 'Chemicals',
    lead: 'Usual technical grades. The label and the safety data sheet of what you buy decide.',
    rows: starterChemicals.map(({ facts, ...starter }) => ({
      ...trust(starter),
      ...{ one: facts.code, name: `${facts.code} ${facts.name}`, detail: facts.formula },
      figures: [figure('assay', 'massFraction', facts.assayMassFraction)],
    })),
  },
};

/** A starter set, each row with the record that has its place already. */
export async function readStarterSet(execute: SqlExecutor, key: StarterSetKey): Promise<StarterSet> {
  const { rows, ...head } = sets[key];
  const there = await takenBy(execute, key);
  return { key, ...head, rows: rows.map(({ one, ...row }) => ({ ...row, there: there.get(one) ?? null })) };
}

async function takenBy(
  execute: SqlExecutor,
  key: StarterSetKey,
): Promise<Map<string, { name: string; page: PageRef }>> {
  if (key === 'rates') {
    const { card } = await currentRates(execute);
    return new Map(
      card === null
        ? []
        : [['rates', { name: `rates, revision ${card.revision}`, page: { kind: 'rateCard', id: card.id } }]],
    );
  }
  return new Map((await readNamed(execute, key)).map(({ key: one, name, page }) => [one, { name, page }]));
}
