import { newKey } from './new-key.ts';
import { asProblem, type ApiProblem } from './problem.ts';

/** The keys of writes that were sent and not answered yet, by what they say. */
const unanswered = new Map<string, string>();

/** How often, and how long after each other, a write is asked about that the server is still busy with. */
const TRIES = 10;
const RETRY_MS = 1000;

/**
 * Sends a write under a key of its own. The same words keep their key until they have an answer, so that an answer that
 * was lost on the way is not booked twice when somebody presses the button again; other words, and the same words
 * after an answer, are a new write. `key` is one that is kept elsewhere.
 *
 * @example
 * await withKey({ words: 'POST /api/orders {…}' }, (key) => post(order, key));
 */
export async function withKey<T>(
  { words, key = unanswered.get(words) ?? newKey() }: { words: string; key?: string | undefined },
  send: (key: string) => Promise<T>,
): Promise<T> {
  unanswered.set(words, key);
  for (let attempt = 1; ; attempt += 1) {
    try {
      const answer = await send(key);
      unanswered.delete(words);
      return answer;
    } catch (error) {
      const problem = asProblem(error);
      if (problem.code === 'in-progress' && attempt < TRIES) {
        await new Promise((resolve) => setTimeout(resolve, RETRY_MS));
        continue;
      }
      if (isAnswer(problem)) unanswered.delete(words);
      throw error;
    }
  }
}

/** Nothing was done, and the server said so. */
const isAnswer = ({ code, status }: ApiProblem) =>
  status > 0 && status < 500 && code !== 'in-progress' && code !== 'unreadable';
