import { fileURLToPath } from 'node:url';
import ts from 'typescript';

export interface PublicName {
  name: string;
  /** Folder under src it is written in; empty for the few files beside the entry point. */
  area: string;
  kind: 'function' | 'class' | 'type' | 'value';
  /** Prose of the doc comment, paragraphs as written. */
  description: string;
  /** Lines after @example, null where there is none. */
  example: string | null;
  /** Declaration as a reader of the source sees it, without body and comments. */
  declaration: string;
}

const sourceFolder = fileURLToPath(new URL('../src/', import.meta.url));

/** Everything the package's entry point exports, by name, read from the source with the TypeScript compiler. */
export function readPublicApi(): PublicName[] {
  const entry = `${sourceFolder}index.ts`;
  const program = ts.createProgram([entry], {
    target: ts.ScriptTarget.ES2023,
    module: ts.ModuleKind.ESNext,
    moduleResolution: ts.ModuleResolutionKind.Bundler,
    allowImportingTsExtensions: true,
    noEmit: true,
    noLib: true,
    types: [],
  });
  const checker = program.getTypeChecker();
  const source = program.getSourceFile(entry);
  const module = source && checker.getSymbolAtLocation(source);
  if (!module) throw new Error(`${entry} exports nothing`);
  const byName = (one: ts.Symbol, other: ts.Symbol) => one.name.localeCompare(other.name, 'en');
  return [...checker.getExportsOfModule(module)].sort(byName).flatMap((exported) => {
    const symbol = exported.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(exported) : exported;
    const declaration = symbol.declarations?.[0];
    return declaration ? [describe({ name: exported.name, symbol, declaration, checker })] : [];
  });
}

function describe(found: {
  name: string;
  symbol: ts.Symbol;
  declaration: ts.Declaration;
  checker: ts.TypeChecker;
}): PublicName {
  const { name, symbol, declaration, checker } = found;
  const path = declaration.getSourceFile().fileName.slice(sourceFolder.length);
  const example = symbol.getJsDocTags(checker).find((tag) => tag.name === 'example');
  return {
    name,
    area: path.includes('/') ? path.slice(0, path.indexOf('/')) : '',
    kind: kindOf(declaration),
    description: ts.displayPartsToString(symbol.getDocumentationComment(checker)).trim(),
    example: example ? ts.displayPartsToString(example.text).trim() : null,
    declaration: declarationText(declaration),
  };
}

/** By what is written alone: no types are worked out, which keeps reading the whole package quick. */
function kindOf(declaration: ts.Declaration): PublicName['kind'] {
  if (ts.isClassDeclaration(declaration)) return 'class';
  if (ts.isFunctionDeclaration(declaration)) return 'function';
  if (ts.isInterfaceDeclaration(declaration) || ts.isTypeAliasDeclaration(declaration)) return 'type';
  const made = ts.isVariableDeclaration(declaration) ? declaration.initializer : undefined;
  return made && (ts.isArrowFunction(made) || ts.isFunctionExpression(made)) ? 'function' : 'value';
}

function declarationText(declaration: ts.Declaration): string {
  const start = declaration.getStart();
  const text = declaration.getSourceFile().text;
  if (ts.isFunctionDeclaration(declaration) && declaration.body) {
    return text.slice(start, declaration.body.getStart()).trim();
  }
  if (ts.isVariableDeclaration(declaration) && declaration.initializer) {
    const { initializer } = declaration;
    if (ts.isArrowFunction(initializer))
      return `const ${text.slice(start, initializer.body.getStart()).trim()}`;
  }
  return text.slice(start, declaration.end);
}
