/** Files read at once: in workers alone (W3C File API, 6.5), so the page's own types leave it out. */
declare class FileReaderSync {
  readAsArrayBuffer(file: Blob): ArrayBuffer;
}
