/** The lower triangle L of a symmetric positive definite matrix with L Lᵀ = matrix, by rows. */
export function cholesky(matrix: readonly (readonly number[])[]): number[][] {
  const lower: number[][] = [];
  matrix.forEach((entries, i) => {
    const row: number[] = [];
    for (let j = 0; j <= i; j += 1) {
      const above = lower[j] ?? row;
      let rest = entries[j] ?? 0;
      for (let k = 0; k < j; k += 1) rest -= (row[k] ?? 0) * (above[k] ?? 0);
      row.push(j === i ? Math.sqrt(rest) : rest / (above[j] ?? 1));
    }
    lower.push(row);
  });
  return lower;
}

/** The x of L x = values. */
export function solveLower(lower: readonly (readonly number[])[], values: readonly number[]): number[] {
  const x: number[] = [];
  lower.forEach((row, i) => {
    let rest = values[i] ?? 0;
    for (let k = 0; k < i; k += 1) rest -= (row[k] ?? 0) * (x[k] ?? 0);
    x.push(rest / (row[i] ?? 1));
  });
  return x;
}

/** The x of Lᵀ x = values. */
export function solveUpper(lower: readonly (readonly number[])[], values: readonly number[]): number[] {
  const x = [...values];
  for (let i = lower.length - 1; i >= 0; i -= 1) {
    let rest = x[i] ?? 0;
    for (let k = i + 1; k < lower.length; k += 1) rest -= (lower[k]?.[i] ?? 0) * (x[k] ?? 0);
    x[i] = rest / (lower[i]?.[i] ?? 1);
  }
  return x;
}
