import { fieldError } from '../../kernel/refusal.ts';

/** Fifty thousand of the commonest, from what was stolen elsewhere; loaded when a password is first chosen. */
const commonPasswords = async () => {
  const { dictionary } = await import('@zxcvbn-ts/language-common');
  return new Set(dictionary['passwords-common']);
};
let loaded: ReturnType<typeof commonPasswords> | null = null;

const bare = (text: string) => text.normalize('NFKC').toLowerCase().replaceAll(/\s/gu, '');

/**
 * Refuses a password that others use too, or that is the person's name with nothing but figures or signs around it.
 *
 * @example
 * await refuseCommonPassword('Password123', ['lena', 'Lena Vogt']); // throws: is one of the commonest passwords
 */
export async function refuseCommonPassword(
  password: string,
  names: readonly string[],
  path = 'password',
): Promise<void> {
  loaded ??= commonPasswords();
  const plain = bare(password);
  if ((await loaded).has(plain))
    throw fieldError(path, 'is one of the commonest passwords, which are tried first; choose another');
  const letters = plain.replaceAll(/^[^\p{L}]+|[^\p{L}]+$/gu, '');
  if (['huelot', ...names.map(bare)].includes(letters))
    throw fieldError(path, 'is a name with figures or signs around it; choose another');
}
