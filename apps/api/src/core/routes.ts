import people from './people/routes.ts';
import secondFactor from './people/second-factor-routes.ts';
import audit from './audit/routes.ts';
import hashChain from './hash-chain/routes.ts';
import files from './files/routes.ts';

/** The rooms of this wing, as the app registers them. */
export const core = [people, secondFactor, audit, hashChain, files];
