import { chemicalsFromStock } from '@huelot/calc';
import { Family, FamilyRates, type StockRates, type TankContents } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { readSetupsOf, readUse } from '../baths/index.ts';
import { currentRates } from '../../catalog/rates/index.ts';
import * as queries from './queries.ts';

/** The bath that a line of work is named after carries the area; what goes into the others counts to it. */
const bathsOf: Record<Family, { main: readonly TankContents[]; others: readonly TankContents[] }> = {
  'interference-colour': { main: ['mild-salt', 'dilute-acid', 'phosphoric'], others: [] },
  'caustic-colour': { main: ['hot-caustic'], others: [] },
  'dyed-anodize': { main: ['sulfuric-anodize'], others: ['dye', 'seal'] },
};
const DAY = 86_400_000;
/** As many figures as such a mean is worth. */
const rounded = (value: number): number => Number(value.toPrecision(3));

/** What the stock, the additions and the baths say of the chemicals of each line of work. */
export async function viewStockRates(execute: SqlExecutor, { days = 365 }: { days?: number | undefined }) {
  const from = new Date(Date.now() - days * DAY);
  const { card } = await currentRates(execute);
  const families: StockRates[] = [];
  for (const family of Family.options) {
    const recoveryShare = card?.rates.families[family].chemical.recoveryShare ?? 0;
    families.push(await ratesOf(execute, { family, from, recoveryShare }));
  }
  return { from: from.toISOString(), families };
}

async function ratesOf(
  execute: SqlExecutor,
  { family, from, recoveryShare }: { family: Family; from: Date; recoveryShare: number },
): Promise<StockRates> {
  const { main, others } = bathsOf[family];
  const baths = await readBaths(execute, { contents: main, from });
  const uses = await readUses(execute, { contents: [...main, ...others], from });
  const areaM2 = baths.reduce((sum, bath) => sum + bath.areaM2, 0);
  const told = { family, baths, uses, areaM2 };
  const strong = baths.flatMap(({ concentrationGPerL, ...bath }) =>
    concentrationGPerL === null || bath.areaM2 === 0 ? [] : [{ ...bath, concentrationGPerL }],
  );
  const priced = uses.flatMap(({ pricePerKg, ...use }) =>
    pricePerKg === null ? [] : [{ ...use, pricePerKg }],
  );
  const without = uses.find(({ pricePerKg }) => pricePerKg === null);
  const why =
    areaM2 === 0
      ? 'nothing was treated in this period'
      : uses.length === 0
        ? 'nothing was added in this period'
        : without !== undefined
          ? `${without.code} has no price, on any receipt or of its own`
          : strong.length === 0
            ? 'no bath was analysed for its concentration in this period'
            : '';
  if (why !== '') return { ...told, chemical: null, why };
  const analysedM2 = strong.reduce((sum, bath) => sum + bath.areaM2, 0);
  const mean = (key: 'dragOutLPerM2' | 'concentrationGPerL') =>
    strong.reduce((sum, bath) => sum + bath.areaM2 * bath[key], 0) / analysedM2;
  const found = chemicalsFromStock({
    uses: priced,
    areaM2,
    dragOutLPerM2: mean('dragOutLPerM2'),
    concentrationGPerL: mean('concentrationGPerL'),
    recoveryShare,
  });
  const chemical = {
    consumptionGPerM2: rounded(found.consumptionGPerM2),
    pricePerKg: rounded(found.pricePerKg),
    dragOutLPerM2: rounded(found.dragOutLPerM2),
    concentrationGPerL: rounded(found.concentrationGPerL),
    recoveryShare,
  };
  return FamilyRates.shape.chemical.safeParse(chemical).success
    ? { ...told, chemical, why }
    : { ...told, chemical: null, why: 'too little was treated in this period to tell' };
}

async function readBaths(execute: SqlExecutor, options: { contents: readonly TankContents[]; from: Date }) {
  const fills = await queries.readFillsSince(execute, options);
  const ids = fills.map(({ id }) => id);
  const use = await readUse(
    execute,
    ids.map((bathId) => ({ bathId, since: options.from })),
  );
  const setups = await readSetupsOf(execute, ids);
  const strengths = await queries.readStrengths(execute, { bathIds: ids, from: options.from });
  return fills.map(({ id, number, tankCode }, index) => ({
    id,
    number,
    tankCode,
    areaM2: use[index]?.areaM2 ?? 0,
    dragOutLPerM2: setups.get(id)?.dragOutLPerM2 ?? 0,
    concentrationGPerL: strengths.find(({ bathId }) => bathId === id)?.gramsPerLitre ?? null,
  }));
}

async function readUses(execute: SqlExecutor, options: { contents: readonly TankContents[]; from: Date }) {
  const rows = await queries.readUses(execute, options);
  const chemicalIds = [...new Set(rows.map(({ chemicalId }) => chemicalId))];
  const receipts = await queries.readReceipts(execute, { chemicalIds, from: options.from });
  return chemicalIds.flatMap((id) => {
    const mine = rows.filter(({ chemicalId }) => chemicalId === id);
    const [first] = mine;
    if (first === undefined) return [];
    const kg = mine.reduce((sum, row) => sum + row.kg, 0);
    const soluteKg = mine.reduce((sum, row) => sum + row.soluteKg, 0);
    const came = receipts.filter(({ chemicalId }) => chemicalId === id);
    const cameKg = came.reduce((sum, receipt) => sum + receipt.receivedKg, 0);
    const { chemicalId, code, name } = first;
    return [
      {
        ...{ chemicalId, code, name, kg },
        assayMassFraction: soluteKg / kg,
        pricePerKg:
          cameKg === 0
            ? null
            : came.reduce((sum, receipt) => sum + Number(receipt.pricePerKg) * receipt.receivedKg, 0) /
              cameKg,
        receipts: came.map(({ chemicalId: _, receivedAt, ...receipt }) => ({
          ...receipt,
          receivedAt: receivedAt.toISOString(),
        })),
      },
    ];
  });
}
