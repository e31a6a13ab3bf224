export {
  changesBetween,
  nobody,
  writeAudit,
  signature,
  type Change,
  type Doer,
  type Entry,
} from './record.ts';
