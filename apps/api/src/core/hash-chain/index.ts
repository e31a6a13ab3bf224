export { beginCheck } from './check.ts';
export { addKey, keysOf, makeFirstKey, readKeys, type ChainKeys } from './keys.ts';
export { linkOutstanding } from './link.ts';
export { beginNewKey } from './new-key.ts';
export { sealDaily, sealNow } from './seal.ts';
export { parseSeal, sealText, type Seal } from './seal-text.ts';
export { verifyChain, type Verdict } from './verify.ts';
export { isChainEmpty } from './link-queries.ts';
