/** The most that one line is priced for. */
const MAX_PIECES = 1_000_000;

/**
 * Quantities as they are typed, apart by commas, semicolons or spaces. Digits only: `1e3` or `2.5` are no count of
 * pieces, and `1,000` may be one thousand or a one beside a nothing, so it is asked back.
 *
 * @example
 * readQuantities('48, 480') // { quantities: [48, 480], fault: undefined }
 * readQuantities('1e3') // { quantities: [], fault: '“1e3” is not a whole number of pieces.' }
 */
export function readQuantities(text: string): { quantities: number[]; fault: string | undefined } {
  const words = text.split(/[\s,;]+/).filter((word) => word !== '');
  const fault = faultOf(text, words);
  return { quantities: fault === undefined ? words.map(Number) : [], fault };
}

function faultOf(text: string, words: readonly string[]): string | undefined {
  const grouped = /(?:^|[\s;])(\d{1,3}),(0\d\d)(?=$|[^\d])/.exec(text);
  if (grouped)
    return `Write ${grouped[1]}${grouped[2]} without the comma; a comma stands between quantities.`;
  const odd = words.find((word) => !/^\d{1,9}$/.test(word) || Number(word) < 1 || Number(word) > MAX_PIECES);
  if (odd !== undefined)
    return /^\d+$/.test(odd)
      ? `${odd} is not between 1 and 1 000 000 pieces.`
      : `“${odd}” is not a whole number of pieces.`;
  const twice = words.find((word, index) => words.findIndex((one) => Number(one) === Number(word)) !== index);
  return twice === undefined ? undefined : `${Number(twice)} is there twice.`;
}
