import type { HandleClientError } from '@sveltejs/kit';
import { z } from 'zod';
import { asProblem } from '$lib/problem.ts';

// The content security policy allows no code made from text, which zod would otherwise try first.
z.config({ jitless: true });

/** Whatever a page's `load` could not do, in a sentence for the person. */
export const handleError: HandleClientError = ({ error, status }) => {
  if (status === 404) return { message: 'There is no page at this address.' };
  const { detail, reference } = asProblem(error);
  return { message: detail, ...(reference === undefined ? {} : { reference }) };
};
