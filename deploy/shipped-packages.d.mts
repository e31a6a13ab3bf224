interface Built {
  type: 'asset' | 'chunk';
}

export function shippedPackages(workspace: string): {
  name: string;
  generateBundle: (
    this: { emitFile: (file: never) => unknown },
    options: unknown,
    bundle: Record<string, Built>,
  ) => void;
};
