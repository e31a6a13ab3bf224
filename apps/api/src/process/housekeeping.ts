import { sql, type Db } from '../db/client.ts';

/** How long the answer of a write is kept for a resend with the same key. A tablet that was off over a holiday is back by then. */
export const ANSWER_DAYS = 14;
const BATCH = 5_000;
const HOUR_MS = 3600 * 1000;

/** Drops answers nobody will ask for again: a bounded number at a time, so that nobody waits for it. */
export async function dropOldAnswers(db: Db, batch = BATCH): Promise<number> {
  const dropped = await db.execute(sql`
    delete from "answered" where ("personId", "key") in (
      select "personId", "key" from "answered" where "at" < now() - make_interval(days => ${ANSWER_DAYS})
       order by "at" limit ${batch} for update skip locked)
    returning "key"`);
  return dropped.length;
}

/** Does so every hour, and once at the start; returns how to stop. Any number of processes may do it side by side. */
export function startHousekeeping(db: Db, log: { error: (about: object, words: string) => void }) {
  let working: Promise<unknown> = Promise.resolve();
  const tidy = () => {
    working = dropOldAnswers(db).catch((error: unknown) =>
      log.error({ err: error }, 'old answers not dropped'),
    );
  };
  const timer = setInterval(tidy, HOUR_MS);
  tidy();
  return () => {
    clearInterval(timer);
    return working;
  };
}
