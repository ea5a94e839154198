declare module 'pngjs' {
  export class PNG {
    constructor(options: { width: number; height: number });
    readonly width: number;
    readonly height: number;
    /** RGBA, row by row. */
    readonly data: Uint8Array;
    static readonly sync: {
      write(png: PNG): Uint8Array;
      read(bytes: Uint8Array): PNG;
    };
  }
}
