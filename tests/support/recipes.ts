import type { NewStep, Recipe, RecipeRevision } from '@huelot/contracts';
import { testApp, type Ask } from './app.ts';
import { proveRevision } from './evidence.ts';

export const step = (kind: NewStep['kind'], extra: Partial<NewStep> = {}): NewStep => ({
  kind,
  title: kind,
  instructions: '',
  contents: null,
  durationS: 60,
  dripS: 10,
  settings: [],
  electrical: null,
  cautions: [],
  record: [],
  ...extra,
});
export const colour = (volts: number): NewStep =>
  step('colour', {
    contents: 'mild-salt',
    settings: [{ quantity: 'voltageV', target: volts, low: volts - 0.5, high: volts + 0.5 }],
    electrical: {
      mode: 'voltage',
      programme: [
        { kind: 'ramp', to: volts, seconds: 20 },
        { kind: 'hold', to: volts, seconds: 30 },
      ],
      peakCurrentDensityAPerM2: 200,
      steadyCurrentDensityAPerM2: 10,
      timeConstantS: 8,
      averageVoltageV: volts - 2,
      chargeCPerM2: null,
    },
    cautions: ['Supply off before touching the bars.'],
    record: ['voltageV', 'currentA', 'durationS'],
  });
export const route = (volts = 28): NewStep[] => [
  step('clean', { contents: 'alkaline-clean' }),
  step('rinse', { contents: 'water-rinse' }),
  colour(volts),
  step('rinse', { contents: 'water-rinse', title: 'rinse again' }),
  step('inspect'),
];
export const head = (name: string, extra: object = {}) => ({
  name,
  family: 'interference-colour',
  baseMetals: ['titanium'],
  colour: 'blue',
  notes: '',
  ...extra,
});

/** Who writes recipes, who approves them, who works by them, and what they do, over an app of its own. */
export async function recipeDesk() {
  const app = await testApp();
  const author = await app.as('lab');
  const second = await app.as('quality');
  const operator = await app.as('operator');

  const start = ({ ask, name, more, steps }: { ask?: Ask; name: string; steps?: NewStep[]; more?: object }) =>
    (ask ?? author)({
      method: 'POST',
      url: '/api/recipes',
      payload: { ...head(name, more), changeNote: 'first', steps: steps ?? route() },
    });
  const started = async (name: string, steps = route()) =>
    (await start({ name, steps })).json<RecipeRevision>();
  const act = (
    ask: Ask,
    { revision, verb, payload }: { revision: RecipeRevision; verb: string; payload?: object },
  ) =>
    ask({
      method: 'POST',
      url: `/api/recipe-revisions/${revision.id}/${verb}`,
      headers: { 'if-match': `"${revision.version}"` },
      payload: payload ?? {},
    });
  /** Approves a draft, with coupons put behind it first where it has a colour step. */
  const approve = async (revision: RecipeRevision, ask: Ask = second) => {
    const isDraft =
      (await app.db.prisma.recipeRevision.findUnique({ where: { id: revision.id } }))?.status === 'draft';
    const colours = revision.steps.some(({ kind }) => kind === 'colour' || kind === 'anodize');
    if (isDraft && colours) await proveRevision(app.db, { revisionId: revision.id });
    return act(ask, { revision, verb: 'approve' });
  };
  const save = (revision: RecipeRevision, steps: NewStep[], ask: Ask = author) =>
    ask({
      method: 'PUT',
      url: `/api/recipe-revisions/${revision.id}`,
      headers: { 'if-match': `"${revision.version}"` },
      payload: { changeNote: 'changed', steps },
    });
  const read = async (id: number) => (await author({ url: `/api/recipes/${id}` })).json<Recipe>();
  const statuses = async (id: number) =>
    (await read(id)).revisions.map(({ revision, status }) => [revision, status]);
  return { app, author, second, operator, start, started, act, approve, save, read, statuses };
}

/** The fields that a refusal names. */
export const pathsOf = (reply: Awaited<ReturnType<Ask>>) =>
  (reply.json<{ issues?: { path: string }[] }>().issues ?? []).map(({ path }) => path);
