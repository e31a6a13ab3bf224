export { look, lookAtAll } from './look-back.ts';
