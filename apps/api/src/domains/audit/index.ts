export { changesBetween, nobody, record, type Change, type Doer, type Entry } from './record.ts';
