export { addTank } from './tanks.ts';
