import type { Permission } from '@huelot/contracts';
import { actorMay, type Actor } from '../../actor.ts';
import type { Db, Run } from '../../db/client.ts';
import { readReminders } from '../lab/index.ts';
import { mostWaiting, readDay, waiting } from './today-queries.ts';

interface Heading {
  key: keyof typeof waiting;
  needs: Permission;
  title: string;
  empty: string;
}

/** Who sees which heading, in the order of the day. */
const headings: Heading[] = [
  { key: 'holds', needs: 'lots.unhold', title: 'Lots on hold', empty: 'No lot is on hold.' },
  { key: 'bathHolds', needs: 'steps.sign', title: 'Baths on hold', empty: 'No bath is on hold.' },
  {
    key: 'toOrder',
    needs: 'lab.write',
    title: 'Chemicals to order',
    empty: 'Every chemical is above its reorder point.',
  },
  {
    key: 'steps',
    needs: 'steps.sign',
    title: 'Steps ready at the tanks',
    empty: 'No step waits. Released lots show here with their next step.',
  },
  {
    key: 'checks',
    needs: 'inspection.write',
    title: 'Waiting for the final check',
    empty: 'No lot waits for the final check.',
  },
  { key: 'releases', needs: 'lots.release', title: 'To release', empty: 'Every ordered piece is in a lot.' },
  {
    key: 'shipments',
    needs: 'shipping.write',
    title: 'To ship',
    empty: 'Nothing accepted waits to be shipped.',
  },
  {
    key: 'deliveries',
    needs: 'orders.read',
    title: 'Due within a week',
    empty: 'Nothing is due within a week.',
  },
  {
    key: 'quotations',
    needs: 'quotations.write',
    title: 'Quotations about to lapse',
    empty: 'No sent quotation lapses within ten days.',
  },
  {
    key: 'approvals',
    needs: 'recipes.approve',
    title: 'Recipes to approve',
    empty: 'No draft of somebody else waits for approval.',
  },
];

/** What waits for whoever asks: only headings they can act on. */
export async function readToday(db: Db, actor: Actor) {
  const day = await readDay(db.run);
  const mine = headings.filter(({ needs }) => actorMay(actor, needs));
  const sections = await Promise.all(
    mine.map(async ({ key, title, empty }) => {
      const rows = await waiting[key](db.run, day, actor.personId);
      return {
        key,
        title,
        empty,
        total: rows[0]?.total ?? 0,
        items: rows.map(({ total: _total, ...item }) => item),
      };
    }),
  );
  const lab = actorMay(actor, 'lab.write') ? [await labSection(db.run)] : [];
  return { day, sections: [...lab, ...sections] };
}

/** What the wet lab has to do, the most urgent first. */
async function labSection(run: Run) {
  const reminders = await readReminders(run);
  return {
    key: 'lab',
    title: 'Wet lab',
    empty: 'No analysis is due and no addition waits.',
    total: reminders.length,
    items: reminders.slice(0, mostWaiting).map(({ bathId, tankCode, title, detail, dueAt, overdue }) => ({
      href: `/lab/baths/${bathId}`,
      title: `${tankCode}: ${title}`,
      detail,
      when: dueAt,
      urgent: overdue,
    })),
  };
}
