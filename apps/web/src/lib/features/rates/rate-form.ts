import type { FamilyRates, RateCard, Rates, StockRates } from '@huelot/contracts';

/** The figures of a card while they are typed: any may be missing. */
export interface RateValues {
  note: string;
  rates: Missing<Omit<Rates, 'quantityBreaks'>> & { quantityBreaks: (number | null)[] };
}
type Missing<T> = { [K in keyof T]: T[K] extends number ? number | null : Missing<T[K]> };

const noFamily: FamilyRates = {
  linePerHour: 0,
  heatingKw: 0,
  rinseLPerLoad: 0,
  reworkShare: 0,
  stripPerM2: 0,
  chemical: {
    consumptionGPerM2: 0,
    pricePerKg: 0,
    dragOutLPerM2: 0,
    concentrationGPerL: 0,
    recoveryShare: 0,
  },
};
/** What the shop lives on must be typed; a line it does not run costs nothing. */
const noRates: RateValues['rates'] = {
  labourPerHour: null,
  energyPerKwh: null,
  waterPerM3: null,
  wastePerM3: null,
  overheadShare: null,
  overheadPerLabourHour: 0,
  marginShare: null,
  minimumLot: null,
  expediteShare: null,
  labour: { setupS: null, rackS: null, unrackS: null, inspectS: null, packS: null },
  masking: { timeS: 0, materialCost: 0 },
  charges: { certificateCost: 0, packingCost: 0 },
  quantityBreaks: [1, 10, 50, 100],
  families: { 'interference-colour': noFamily, 'caustic-colour': noFamily, 'dyed-anodize': noFamily },
};

export const valuesOf = (card: RateCard | null): RateValues => ({
  note: '',
  rates: card?.rates ?? noRates,
});

/** A draft that takes over the chemicals of every line of work that the stock tells. */
export function withChemicals(values: RateValues, found: readonly StockRates[]): RateValues {
  const families = { ...values.rates.families };
  for (const { family, chemical } of found)
    if (chemical !== null) families[family] = { ...families[family], chemical };
  return { note: 'chemical rates from stock', rates: { ...values.rates, families } };
}

/** Puts a figure where its path leads inside the values. */
export function setAt(values: RateValues, path: string, value: number | null): void {
  const keys = path.split('.');
  const last = keys.pop() ?? '';
  let at = values as unknown as Record<string, unknown>;
  for (const key of keys) at = at[key] as Record<string, unknown>;
  at[last] = value;
}
