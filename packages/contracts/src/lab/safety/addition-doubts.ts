/** What calc finds against an addition, with its figures. */
export type AdditionDoubt =
  | { code: 'stands-too-high'; standsL: number; roomL: number }
  | { code: 'takes-too-much'; takenL: number; stoodL: number }
  | { code: 'began-too-hot'; temperatureC: number; limitC: number }
  | { code: 'ended-too-hot'; temperatureC: number; limitC: number };

const litres = (value: number): string => `${Number(value.toPrecision(3))} L`;
const celsius = (value: number): string => `${Number(value.toFixed(1))} °C`;

/** The question that it asks, on the page and in the answer of the server alike. */
export function additionDoubtWords(doubt: AdditionDoubt): string {
  switch (doubt.code) {
    case 'stands-too-high':
      return `the bath would stand at ${litres(doubt.standsL)}, and the tank has room for ${litres(doubt.roomL)}`;
    case 'takes-too-much':
      return `${litres(doubt.takenL)} is taken, and only ${litres(doubt.stoodL)} stood in the tank`;
    case 'began-too-hot':
      return `it was begun at ${celsius(doubt.temperatureC)}, and a portion may go in up to ${celsius(doubt.limitC)}`;
    case 'ended-too-hot':
      return `it ended at ${celsius(doubt.temperatureC)}, and the tank is run up to ${celsius(doubt.limitC)}`;
  }
}

/** Why a large addition waits for a second analysis: `numbers` are those of the analyses that there are, newest first. */
export function secondAnalysisWords(
  wanted: { stockKg: number; share: number; have: 'none' | 'one' | 'two-that-differ' | 'another-start' },
  numbers: readonly string[],
): string {
  const { stockKg, share, have } = wanted;
  const [last = '', before = ''] = numbers;
  const there = {
    none: 'there is none since the last addition',
    one: `there is only ${last} since the last addition`,
    'two-that-differ': `${last} and ${before} do not agree`,
    'another-start': `${last} and ${before} found another strength than the plan starts from`,
  }[have];
  const percent = (100 * share).toFixed(0);
  return `${Number(stockKg.toPrecision(3))} kg is ${percent} % of the bath: an addition this large needs two analyses that agree, and ${there}. Take another sample and analyse it again.`;
}
