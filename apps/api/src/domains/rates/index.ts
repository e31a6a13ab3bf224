export { currentRates } from './rate-cards.ts';
