/**
 * The regularity behind the MIL-STD-105E single-plan tables, written without looking at the tables themselves: what a cell
 * holds depends on the sum of the places of its letter (A = 0 .. R = 15) and its AQL column (0.010 = 0 .. 1000 = 25). Serves as a
 * check on retyped tables.
 */
const LETTERS = [...'ABCDEFGHJKLMNPQRS'];
// prettier-ignore
const AQLS = ['0.010', '0.015', '0.025', '0.040', '0.065', '0.10', '0.15', '0.25', '0.40', '0.65', '1.0', '1.5', '2.5',
  '4.0', '6.5', '10', '15', '25', '40', '65', '100', '150', '250', '400', '650', '1000'];
// prettier-ignore
const SIZES = {
  normal:    [2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000],
  tightened: [2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000, 3150],
  reduced:   [2, 2, 2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800],
};

interface Place {
  severity: 'normal' | 'tightened' | 'reduced';
  letter: string;
  aql: string;
}

/** 'down', 'up' or 'Ac/Re'. */
export function diagonalCell({ severity, letter, aql }: Place): string {
  const row = LETTERS.indexOf(letter);
  const d = row + AQLS.indexOf(aql);
  const own = { normal, tightened, reduced }[severity];
  return own(d, row);
}

function normal(d: number, row: number): string {
  if (row === 0 && d === 15) return 'down';
  if (row === 15 && d === 16) return 'up';
  if (d < 14 || d === 16) return 'down';
  if (d === 14) return '0/1';
  if (d === 15) return 'up';
  const ac = [1, 2, 3, 5, 7, 10, 14, 21][d - 17] ?? lastTwo({ d, row, numbers: [30, 44] });
  return ac === undefined ? 'up' : `${ac}/${ac + 1}`;
}

function tightened(d: number, row: number): string {
  if (row === 16) return d === 18 ? '1/2' : '';
  if (row === 15 && d === 16) return 'up';
  if (d === 15 && row > 0) return '0/1';
  if (d < 18) return 'down';
  const ac = [1, 2, 3, 5, 8, 12, 18][d - 18] ?? lastTwo({ d, row, numbers: [27, 41] });
  return ac === undefined ? 'up' : `${ac}/${ac + 1}`;
}

/** Both last plans exist for letters A to E only, the very last from B. */
function lastTwo({ d, row, numbers }: { d: number; row: number; numbers: [number, number] }): number | undefined {
  if (row > 4) return undefined;
  return d === 25 ? numbers[0] : d === 26 && row > 0 ? numbers[1] : undefined;
}

// prettier-ignore
const REDUCED = ['0/2', '1/3', '1/4', '2/5', '3/6', '5/8', '7/10', '10/13'];
const REDUCED_LAST = ['14/17', '21/24'];
const REDUCED_A = ['1/2', '2/3', '3/4', '5/6', '7/8', '10/11', '14/15', '21/22', '30/31'];
const REDUCED_B = ['0/2', '1/3', '2/4', '3/5', '5/6', '7/8', '10/11', '14/15', '21/22', '30/31'];

function reduced(d: number, row: number): string {
  if (row === 0 && d === 15) return 'down';
  if (row === 15 && d === 16) return 'up';
  if (d < 14 || d === 16) return 'down';
  if (d === 14) return '0/1';
  if (d === 15) return 'up';
  if (row === 0) return REDUCED_A[d - 17] ?? 'up';
  if (row === 1) return REDUCED_B[d - 17] ?? 'up';
  return REDUCED[d - 17] ?? (row <= 4 ? REDUCED_LAST[d - 25] : undefined) ?? 'up';
}

/** The plan at the end of the arrows. */
export function diagonalPlan(place: Place): { letter: string; n: number; ac: number; re: number } {
  const cell = diagonalCell(place);
  const row = LETTERS.indexOf(place.letter);
  if (cell === 'down' || cell === 'up') {
    return diagonalPlan({ ...place, letter: LETTERS[row + (cell === 'down' ? 1 : -1)] ?? '' });
  }
  const [ac = NaN, re = NaN] = cell.split('/').map(Number);
  return { letter: place.letter, n: SIZES[place.severity][row] ?? NaN, ac, re };
}
