export { addChemical } from './chemicals.ts';
export { pricedFor } from './prices.ts';
export { addMovement, type LotRow, readLot, readUsableLots, toLot } from './lot-queries.ts';
export { receiveLot } from './stock.ts';
