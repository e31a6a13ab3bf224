import { writeFileSync } from 'node:fs';
import path from 'node:path';
import packageJson from '../../package.json' with { type: 'json' };
import { servedOpenApi } from '../support/openapi.ts';

/** Writes the description of the API where a change of it shows in review. */
writeFileSync(
  path.resolve(import.meta.dirname, '../../docs/openapi.json'),
  await servedOpenApi(packageJson.version),
);
