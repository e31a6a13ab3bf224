import { NewEnquiry, type BaseMetal } from '@huelot/contracts';
import { addEnquiry, declineEnquiry } from '../sales/enquiries/index.ts';
import { DAY, HOUR, type Shop } from './job.ts';
import { runJob } from './job-quotation.ts';
import { planAnswer } from './jobs.ts';
import type { DemoPart } from './parts.ts';
import type { RecipeKey } from './recipe-book.ts';

/* What people asked the invented shop for. Names and words are made up. */

interface Sketch {
  daysAgo: number;
  /** Its place in the list of customers, or who asks that is none yet. */
  from: number | string;
  contact: string;
  words: string;
  colourName: string;
  colour: NewEnquiry['colour'];
  material: string | null;
  baseMetal: BaseMetal | null;
  quantity: number | null;
  wantedInDays: number | null;
  sample: { name: string; keptAt: string; dueInDays: number } | null;
}

const sketches = {
  open: {
    ...{ daysAgo: 5, from: 'Copper Gate Cycles', contact: 'Rosa Lind' },
    words:
      'We make pedal cages and want them deep blue, like the clamp we send along. Can grade 5 take it? Forty pairs to begin with.',
    ...{ colourName: 'deep blue', colour: { L: 44, a: 8, b: -42 } },
    ...{ material: 'Titanium grade 5, Ti-6Al-4V', baseMetal: null, quantity: 80, wantedInDays: 30 },
    sample: { name: 'seat clamp of another maker', keptAt: 'cabinet 4, drawer 2', dueInDays: 4 },
  },
  quoted: {
    ...{ daysAgo: 3, from: 0, contact: 'Mira Sand' },
    words: 'The seat clamp again, in the blue we agreed on, for the spring series.',
    ...{ colourName: 'Falkenau blue', colour: { L: 43, a: 9, b: -42 } },
    ...{ material: 'Titanium grade 5, Ti-6Al-4V', baseMetal: null, quantity: 96, wantedInDays: 45 },
    sample: null,
  },
  declined: {
    ...{ daysAgo: 16, from: 2, contact: 'Tess Oban' },
    words: 'A bright red on the blades of the new pocket knife, as on your aluminium grilles.',
    ...{ colourName: 'bright red', colour: null, material: null, baseMetal: 'steel' },
    ...{ quantity: 200, wantedInDays: null, sample: null },
  },
} as const satisfies Record<string, Sketch>;

/** One enquiry that waits for an answer, one that a quotation answers, and one that was declined. */
export async function seedEnquiries(
  shop: Shop,
  {
    parts,
    recipes,
    customerIds,
  }: {
    parts: readonly DemoPart[];
    recipes: Record<RecipeKey, number>;
    customerIds: readonly number[];
  },
): Promise<void> {
  const { db, actors, story, equipment } = shop;
  const materials = new Map(
    (await db.prisma.material.findMany({ select: { id: true, name: true } })).map(({ id, name }) => [
      name,
      id,
    ]),
  );
  const write = (sketch: Sketch) => {
    const input = NewEnquiry.parse(
      factsOf(sketch, { customerIds, materials, ownerId: actors.edgar.personId }),
    );
    return story.at(morning(sketch.daysAgo), () => addEnquiry(db, { actor: actors.edgar, input }));
  };
  await write(sketches.open);
  const quoted = await write(sketches.quoted);
  const customerId = customerIds[sketches.quoted.from] ?? 0;
  await runJob(shop, planAnswer({ parts, recipes, equipment, customerId, enquiryId: quoted.id, daysAgo: 2 }));
  const { id, version } = await write(sketches.declined);
  const reason = 'no bath of ours makes a red on steel; red is a dye in the film of aluminium';
  await story.at(morning(sketches.declined.daysAgo) + 2 * HOUR, () =>
    declineEnquiry(db, { actor: actors.edgar, id, version, reason }),
  );
}

const morning = (daysAgo: number) => Math.floor((Date.now() - daysAgo * DAY) / DAY) * DAY + 8 * HOUR;
const dayIn = (days: number) => new Date(Date.now() + days * DAY).toISOString().slice(0, 10);

const factsOf = (
  sketch: Sketch,
  {
    customerIds,
    materials,
    ownerId,
  }: { customerIds: readonly number[]; materials: ReadonlyMap<string, number>; ownerId: number },
) => ({
  customerId: typeof sketch.from === 'number' ? customerIds[sketch.from] : null,
  customerName: typeof sketch.from === 'number' ? '' : sketch.from,
  ...{ contact: sketch.contact, words: sketch.words, colourName: sketch.colourName, colour: sketch.colour },
  ...{
    colourStandardId: null,
    baseMetal: sketch.baseMetal,
    quantity: sketch.quantity,
    pictureIds: [],
    ownerId,
  },
  materialId: sketch.material === null ? null : materials.get(sketch.material),
  dueOn: sketch.wantedInDays === null ? null : dayIn(sketch.wantedInDays),
  sample:
    sketch.sample === null
      ? null
      : {
          ...{ name: sketch.sample.name, keptAt: sketch.sample.keptAt },
          ...{ dueBackOn: dayIn(sketch.sample.dueInDays), returnedOn: null },
        },
});
