export { keepScan } from './scans.ts';
