/** Log relative error: how many leading decimal digits of a found figure are right, 15 when all of them are. */
export function agreeingDigits(found: number | null | undefined, right: number | undefined): number {
  if (found === right) return 15;
  const error = Math.abs(right === 0 ? Number(found) : (Number(found) - Number(right)) / Number(right));
  return Math.min(15, -Math.log10(error));
}
