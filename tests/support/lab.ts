import type {
  Addition,
  AdditionSheet,
  Analysis,
  AnalysisMethod,
  Bath,
  BathHold,
  BathPage,
  ChemicalLot,
  completeAddition,
  NewAnalysis,
  NewBathSetup,
  TankContents,
  TitrantLot,
} from '@huelot/contracts';
import type { z } from 'zod';
import type { Db } from '../../apps/api/src/db/client.ts';
import { hashSecret } from '../../apps/api/src/core/people/secrets.ts';
import type { Ask } from './app.ts';

let count = 0;
const next = () => (count += 1);

/** Posts, and fails loudly unless it was accepted. */
export async function post<T>(ask: Ask, url: string, payload: object): Promise<T> {
  const reply = await ask({ method: 'POST', url, payload });
  if (reply.statusCode >= 300) throw new Error(`${url}: ${reply.statusCode} ${reply.body}`);
  return reply.json<T>();
}

/** Gives people of a test the PIN that they confirm with. */
export const givePin = async (db: Db, personIds: number[], pin: string) =>
  db.prisma.person.updateMany({ where: { id: { in: personIds } }, data: { pinHash: await hashSecret(pin) } });

export const kohSetup: NewBathSetup = {
  solute: 'KOH',
  fullVolumeL: 400,
  freeboardL: 30,
  workingTemperatureC: 60,
  coldestTemperatureC: 20,
  impurity: { component: 'K2CO3', aimGramsPerLitre: 40 },
  dragOutLPerM2: 0.2,
  components: [
    {
      key: 'KOH',
      name: 'potassium hydroxide',
      unit: 'massFraction',
      referenceTemperatureC: null,
      target: 0.5,
      low: 0.48,
      high: 0.52,
      stopLow: 0.45,
      stopHigh: 0.54,
    },
    {
      key: 'K2CO3',
      name: 'carbonate',
      unit: 'gramsPerLitre',
      referenceTemperatureC: 20,
      target: null,
      low: null,
      high: 60,
      stopLow: null,
      stopHigh: 80,
    },
  ],
  plans: [
    {
      key: 'weekly',
      components: ['KOH', 'K2CO3'],
      methodId: null,
      everyDays: 7,
      everyLoads: 40,
      everyAreaM2: null,
      everyAmpereHours: null,
    },
  ],
  reason: 'first setup',
};

/** An empty tank, for hot caustic unless other contents are named, 0.6 L to the millimetre. */
export const addTank = (ask: Ask, contents: TankContents = 'hot-caustic') => {
  const n = next();
  return post<{ id: number; code: string }>(ask, '/api/tanks', {
    code: `HC${n}`,
    name: 'Hot caustic',
    kind: 'electrolytic',
    contents,
    insideLengthMm: 1000,
    insideWidthMm: 600,
    insideDepthMm: 2100,
    workingVolumeL: 400,
    heaterKw: 12,
    coolerKw: 0,
    cover: 'floating-balls',
    temperatureMinC: 40,
    temperatureMaxC: 95,
    lineOrder: n,
    notes: '',
  });
};
export const addBath = (ask: Ask, tankId: number) =>
  post<Bath>(ask, `/api/tanks/${tankId}/baths`, { notes: '' });

/** A tank of hot caustic with a fill that is watched, flake in stock, a bottle of acid: what a lab person needs. */
export async function equipLab(ask: Ask) {
  const n = next();
  const tank = await addTank(ask);
  const bath = await addBath(ask, tank.id);
  await putSetup(ask, bath.id, kohSetup);
  const chemical = await post<{ id: number }>(ask, '/api/chemicals', {
    code: `KOH-90-${n}`,
    name: 'Potassium hydroxide flake',
    formula: 'KOH',
    solute: 'KOH',
    form: 'solid',
    assayMassFraction: 0.9,
    impurityMassFraction: 0.005,
    densityKgPerM3: null,
    hazards: ['corrosive'],
    supplier: '',
    reorderPointKg: 100,
    pricePerKg: '2.40',
    sdsFileId: null,
    notes: '',
  });
  const lot = await receive(ask, chemical.id, { quantityKg: 200 });
  const titrant = await post<TitrantLot>(ask, '/api/titrants', {
    reagent: 'HCl',
    label: `HCl bottle ${n}`,
    expiresOn: null,
    notes: '',
    eqPerLitre: 0.5,
    standardUncertaintyEqPerLitre: 0.0005,
    standardisedOn: '2026-01-05',
  });
  const methods = (await ask({ url: '/api/methods?limit=200' })).json<{ items: AnalysisMethod[] }>().items;
  const method = methods.find(({ code }) => code === 'CAUSTIC-2');
  if (method === undefined) throw new Error('there is no method to start with');
  return { tank, bath, chemical, lot, titrant, method, methods };
}
export type EquippedLab = Awaited<ReturnType<typeof equipLab>>;

export const receive = (ask: Ask, chemicalId: number, extra: { quantityKg: number; expiresOn?: string }) =>
  post<ChemicalLot>(ask, `/api/chemicals/${chemicalId}/lots`, {
    supplierLot: `F-${next()}`,
    receivedAt: new Date().toISOString(),
    assayMassFraction: 0.9,
    densityKgPerM3: null,
    expiresOn: null,
    quarantined: false,
    notes: '',
    ...extra,
  });

export const pageOf = async (ask: Ask, bathId: number) =>
  (await ask({ url: `/api/baths/${bathId}` })).json<BathPage>();
export const sheetOf = async (ask: Ask, bathId: number) =>
  (await ask({ url: `/api/baths/${bathId}/addition-sheet` })).json<AdditionSheet>();

export async function putSetup(ask: Ask, bathId: number, setup: NewBathSetup): Promise<BathPage> {
  const { bath } = await pageOf(ask, bathId);
  const reply = await ask({
    method: 'PUT',
    url: `/api/baths/${bathId}/setup`,
    headers: { 'if-match': `"${bath.version}"` },
    payload: setup,
  });
  if (reply.statusCode !== 200) throw new Error(reply.body);
  return reply.json<BathPage>();
}

/** Ends whatever keeps work out of a bath, as after half an hour of mixing at 60 °C. */
export async function release(ask: Ask, bathId: number): Promise<BathHold[]> {
  const { holds } = await pageOf(ask, bathId);
  return Promise.all(
    holds
      .filter(({ release: released }) => released === null)
      .map(({ id, confirmedBy }) =>
        post<BathHold>(ask, `/api/bath-holds/${id}/release`, {
          temperatureC: 60,
          mixedS: 1800,
          analysisId: confirmedBy?.id ?? null,
          note: 'mixed',
        }),
      ),
  );
}

/** Two flasks of 5 mL in 250, 25 taken; `factor` moves both end points. */
export function titration(
  { method, titrant }: EquippedLab,
  extra: { factor?: number } & Partial<NewAnalysis> = {},
): NewAnalysis {
  const { factor = 1, ...rest } = extra;
  const flask = { amount: 5, firstEndPointMl: 13.6 * factor, secondEndPointMl: 13.95 * factor };
  const now = new Date().toISOString();
  return {
    methodId: method.id,
    sampledAt: now,
    analysedAt: now,
    why: 'schedule',
    samplePoint: 'middle, left',
    volumeL: 398,
    agitation: true,
    bathTemperatureC: 60,
    readings: {
      kind: 'caustic-two-end-points',
      solute: 'KOH',
      secondReading: 'from-zero',
      basis: 'volume',
      temperatureC: 20,
      dilution: { madeUpToMl: 250, takenMl: 25 },
      blankMl: 0,
      replicates: [flask, flask],
    },
    titrantId: titrant.id,
    instrumentId: null,
    answer: '',
    notes: '',
    ...rest,
  };
}
export const analyse = (ask: Ask, options: EquippedLab, extra?: Parameters<typeof titration>[1]) =>
  post<Analysis>(ask, `/api/baths/${options.bath.id}/analyses`, titration(options, extra));

/** A plan to bring the bath from 47 to 50 wt%, as if 400 L stood in the tank. */
export const raise = ({ lot }: EquippedLab, fromAnalysisId: number | null) => ({
  kind: 'chemical',
  fromAnalysisId,
  request: {
    type: 'strength',
    solute: 'KOH',
    volumeL: 400,
    fullVolumeL: 400,
    freeboardL: 30,
    temperatureC: 60,
    massFraction: 0.47,
    targetMassFraction: 0.5,
    targetGramsPerLitre: null,
    referenceTemperatureC: null,
    chemicalLotId: lot.id,
    fillToMark: true,
    impurity: null,
    coldestTemperatureC: null,
    uncertainty: { massFraction: 0.001, volumeL: 2 },
  },
  steps: null,
  reason: fromAnalysisId === null ? 'to try it' : '',
});
export async function plan(
  ask: Ask,
  options: EquippedLab,
  fromAnalysisId: number | null = null,
): Promise<Addition> {
  const { bath } = await sheetOf(ask, options.bath.id);
  const reply = await ask({
    method: 'POST',
    url: `/api/baths/${options.bath.id}/additions`,
    headers: { 'if-match': `"${bath.version}"` },
    payload: raise(options, fromAnalysisId),
  });
  if (reply.statusCode !== 201) throw new Error(reply.body);
  return reply.json<Addition>();
}

type Actuals = z.output<typeof completeAddition.body>;
/** Exactly what was planned, now. */
export const asPlanned = (addition: Addition, extra: Partial<Actuals> = {}): Actuals => ({
  startedAt: new Date().toISOString(),
  finishedAt: new Date().toISOString(),
  temperatureBeforeC: 60,
  temperatureAfterC: 66,
  volumeBeforeL: 400,
  volumeAfterL: 419,
  lines: addition.steps.flatMap((step): Actuals['lines'] =>
    step.heldBack || !['decant', 'add-water', 'add-stock'].includes(step.action)
      ? []
      : [
          {
            action: step.action as 'add-stock',
            chemicalLotId: step.chemicalLotId,
            kg: step.kg,
            volumeL: step.volumeL,
            measured: 'weighed',
            waste:
              step.action === 'decant'
                ? {
                    volumeL: step.volumeL ?? 0,
                    category: 'alkaline',
                    destination: 'own treatment',
                    document: 'W-1',
                  }
                : null,
          },
        ],
  ),
  checker: null,
  reason: '',
  notes: '',
  ...extra,
});
