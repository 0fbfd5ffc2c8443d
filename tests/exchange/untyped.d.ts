/** The little of pngjs that the tests use; it has no types of its own. */
declare module 'pngjs' {
  export class PNG {
    constructor(options: { width: number; height: number });
    width: number;
    height: number;
    data: Uint8Array;
    static sync: { read(bytes: Uint8Array): PNG; write(png: PNG): Buffer<ArrayBuffer> };
  }
}
