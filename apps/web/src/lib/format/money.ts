import { moneyText } from '@huelot/contracts';

/**
 * A sentence of the costing, where `¤` stands for the currency, with its amounts as people read them.
 *
 * @example
 * amountsInWords('takes the lot to ¤160.31', 'EUR') // 'takes the lot to EUR 160.31'
 */
export const amountsInWords = (sentence: string, currency: string): string =>
  sentence.replace(/¤(\d+(?:\.\d+)?)/g, (_, amount: string) => moneyText(amount, currency));
