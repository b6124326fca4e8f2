/** As much of the standard interface as is used here; the whole comes with the types of browsers only. */
declare namespace WebAssembly {
  class Module {
    constructor(bytes: Uint8Array);
  }
  class Instance {
    constructor(module: Module);
    readonly exports: Readonly<Record<string, unknown>>;
  }
  interface Memory {
    /** Another one after each `grow`. */
    readonly buffer: ArrayBuffer;
    grow(pages: number): number;
  }
  interface Global {
    value: number;
  }
}
