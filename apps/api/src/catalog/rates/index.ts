export { addExchangeRate } from './exchange-rates.ts';
export { currentRates, putInForce } from './rate-cards.ts';
export { readExchangeRate, readExchangeRates } from './exchange-queries.ts';
