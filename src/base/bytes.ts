/** Bytes and text, alike in Node and in a browser. */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';

/** Most characters that a call takes as arguments without trouble. */
const AT_ONCE = 8192;

/** One character for each byte. */
export function latin1(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += AT_ONCE) text += String.fromCharCode(...bytes.subarray(at, at + AT_ONCE));
  return text;
}

/** The low byte of each UTF-16 unit. */
export function latin1Bytes(text: string): Uint8Array {
  return Uint8Array.from(text, (sign) => sign.charCodeAt(0));
}

export function base64(bytes: Uint8Array): string {
  return btoa(latin1(bytes));
}

export function joined(parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

export function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

export function startsWith(bytes: Uint8Array, head: Uint8Array): boolean {
  return bytes.length >= head.length && head.every((byte, k) => bytes[k] === byte);
}

/** SHA-256 of a text in UTF-8; of logs, which are large, the door brings a faster one. */
export function hashOf(text: string): Uint8Array {
  return sha256(new TextEncoder().encode(text));
}

export function hexHashOf(text: string): string {
  return bytesToHex(hashOf(text));
}
