/** For what is worked out once a stack; loops over thickness use real terms only. */
export interface Complex {
  readonly re: number;
  readonly im: number;
}

export const add = (a: Complex, b: Complex): Complex => ({ re: a.re + b.re, im: a.im + b.im });

export const subtract = (a: Complex, b: Complex): Complex => ({ re: a.re - b.re, im: a.im - b.im });

export const scale = (factor: number, a: Complex): Complex => ({ re: factor * a.re, im: factor * a.im });

export const multiply = (a: Complex, b: Complex): Complex => ({
  re: a.re * b.re - a.im * b.im,
  im: a.re * b.im + a.im * b.re,
});

export const divide = (a: Complex, b: Complex): Complex => {
  const size = b.re * b.re + b.im * b.im;
  return { re: (a.re * b.re + a.im * b.im) / size, im: (a.im * b.re - a.re * b.im) / size };
};

/** The square root with a real part >= 0, each part by the form that does not cancel. */
export function squareRoot({ re, im }: Complex): Complex {
  const larger = Math.sqrt((Math.hypot(re, im) + Math.abs(re)) / 2);
  if (larger === 0) return { re: 0, im: 0 };
  const smaller = im / (2 * larger);
  if (re >= 0) return { re: larger, im: smaller };
  return im < 0 ? { re: -smaller, im: -larger } : { re: smaller, im: larger };
}
