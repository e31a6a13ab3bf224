/** The part of occt-import-js (Open CASCADE as WebAssembly) that is used here; the package brings no types. */
declare module 'occt-import-js' {
  interface Mesh {
    attributes: { position: { array: number[] } };
    index: { array: number[] };
  }
  interface Occt {
    ReadStepFile(
      content: Uint8Array,
      options: {
        linearUnit: 'millimeter';
        linearDeflectionType: 'bounding_box_ratio';
        linearDeflection: number;
        angularDeflection: number;
      },
    ): { success: boolean; meshes?: Mesh[] };
  }
  export default function occt(options: { print: () => void; printErr: () => void }): Promise<Occt>;
}
