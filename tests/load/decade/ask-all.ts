import type { FastifyInstance } from 'fastify';
import pg from 'pg';
import { openSignIn } from '../../../apps/api/src/core/people/sign-in.ts';
import type { Db } from '../../../apps/api/src/db/client.ts';
import { statementsOf } from '../statements.ts';
import { measure, type Measured } from './measure.ts';
import { askedOf } from './questions.ts';

/** People of the invented shop who may ask, by their role, and what every request sends to know who asks. */
export async function whoAsks(
  app: FastifyInstance,
  db: Db,
): Promise<{ cookieOf: (role: string) => string; shared: ReadonlySet<string> }> {
  const cookies = new Map<string, string>();
  for (const role of ['owner', 'planner', 'operator', 'lab', 'quality', 'estimator']) {
    const person = await db.prisma.person.findFirst({
      where: { roles: { has: role } },
      orderBy: { id: 'asc' },
    });
    if (person === null) throw new Error(`nobody is ${role}`);
    cookies.set(role, `huelot=${await openSignIn(db, person, { address: '127.0.0.1', agent: 'bench' })}`);
  }
  const me = () => app.inject({ url: '/api/me', headers: { cookie: cookies.get('owner') ?? '' } });
  await me();
  const shared = new Set(
    (await statementsOf(me)).flatMap(([first]) =>
      typeof first === 'object' && first !== null && 'text' in first ? [String(first.text)] : [],
    ),
  );
  return { cookieOf: (role) => cookies.get(role) ?? '', shared };
}

/** Asks every question as a person of the invented shop who may ask it, one after the other. */
export async function askAll({
  app,
  db,
  url,
  only,
}: {
  app: FastifyInstance;
  /** As the owner: the sign-ins are its own. */
  db: Db;
  /** Where the statements are sent again, as the role that the service works as. */
  url: string;
  /** Part of the names that are asked; all of them when it is empty. */
  only: string;
}): Promise<Measured[]> {
  const client = new pg.Client({ connectionString: url });
  client.on('error', () => undefined); // The query in flight reports it.
  await client.connect();
  const { cookieOf, shared } = await whoAsks(app, db);
  const answers: Measured[] = [];
  for (const question of (await askedOf(client)).filter(({ name }) => name.includes(only)))
    answers.push(
      await measure({ app, client, shared, cookie: cookieOf(question.role ?? 'owner') }, question),
    );
  await client.end();
  return answers;
}
