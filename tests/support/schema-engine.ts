import { readFile, readdir } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { PrismaPg } from '@prisma/adapter-pg';
import { bindSqlAdapterFactory } from '@prisma/driver-adapter-utils';

const folder = new URL('../../prisma/schema/', import.meta.url);

/**
 * The Prisma schema as SQL that builds it from nothing: for drafting a migration, and for testing that the
 * migrations and the schema agree. The engine is the one Prisma itself migrates with, as WebAssembly, instantiated
 * by hand because Node 20 does not import `.wasm`; it wants a database to talk to, and changes nothing in it.
 */
export async function schemaAsSql(connectionString: string): Promise<string> {
  const glue = (await import('@prisma/schema-engine-wasm/schema_engine_bg')) as unknown as WasmGlue;
  const file = createRequire(import.meta.url)
    .resolve('@prisma/schema-engine-wasm')
    .replace(/\.js$/, '_bg.wasm');
  const { instance } = await WebAssembly.instantiate(await readFile(file), {
    './schema_engine_bg.js': glue as never,
  });
  glue.__wbg_set_wasm(instance.exports);
  (instance.exports['__wbindgen_start'] as () => void)();

  const names = (await readdir(folder)).filter((name) => name.endsWith('.prisma')).sort();
  const files = await Promise.all(
    names.map(async (path) => ({ path, content: await readFile(new URL(path, folder), 'utf8') })),
  );
  const adapter = bindSqlAdapterFactory(new PrismaPg({ connectionString }));
  const engine = await glue.SchemaEngine.new(
    { datamodels: files.map(({ path, content }) => [path, content]) },
    () => undefined,
    adapter,
  );
  const { stdout } = await engine.diff({
    from: { tag: 'empty' },
    to: { tag: 'schemaDatamodel', files },
    script: true,
    exitCode: null,
    shadowDatabaseUrl: null,
    filters: { externalTables: [], externalEnums: [] },
  });
  return stdout?.trim() ?? '';
}

interface WasmGlue {
  __wbg_set_wasm(exports: WebAssembly.Exports): void;
  SchemaEngine: {
    new: (
      options: object,
      log: () => void,
      adapter: object,
    ) => Promise<{ diff(options: object): Promise<{ stdout: string | null }> }>;
  };
}
