export { issue as issueDeliveryNote, readSheet as readDeliverySheet } from './deliveries.ts';
export { addReturn as recordReturn } from './returns.ts';
