/**
 * SHA-256 (FIPS 180-4) for logs of gigabytes in a page: more than twice as fast as JavaScript. AssemblyScript, compiled by
 * `npm run wasm` to `.build/sha256.wasm`. The state lies at `STATE`, the caller's bytes from `DATA` on.
 */

// 4.2.2: the first 32 bits of the fractional parts of the cube roots of the first 64 primes.
const K = memory.data<u32>([
  0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5, 0xd807aa98, 0x12835b01,
  0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174, 0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc,
  0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da, 0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147,
  0x06ca6351, 0x14292967, 0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
  0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070, 0x19a4c116, 0x1e376c08,
  0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3, 0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208,
  0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
]);
const S = memory.data(32, 16);

/** Where the eight words of the state lie. */
export function state(): usize {
  return S;
}

/** 5.3.3 */
export function begin(): void {
  store<u32>(S, 0x6a09e667, 0);
  store<u32>(S, 0xbb67ae85, 4);
  store<u32>(S, 0x3c6ef372, 8);
  store<u32>(S, 0xa54ff53a, 12);
  store<u32>(S, 0x510e527f, 16);
  store<u32>(S, 0x9b05688c, 20);
  store<u32>(S, 0x1f83d9ab, 24);
  store<u32>(S, 0x5be0cd19, 28);
}

/** Each of four words turned right. */
// @ts-ignore: decorator of AssemblyScript
@inline
function turned(x: v128, by: i32): v128 {
  return v128.or(i32x4.shr_u(x, by), i32x4.shl(x, 32 - by));
}
// @ts-ignore: decorator of AssemblyScript
@inline
function smallSigma0(x: v128): v128 {
  return v128.xor(v128.xor(turned(x, 7), turned(x, 18)), i32x4.shr_u(x, 3));
}
// @ts-ignore: decorator of AssemblyScript
@inline
function smallSigma1(x: v128): v128 {
  return v128.xor(v128.xor(turned(x, 17), turned(x, 19)), i32x4.shr_u(x, 10));
}
/** Four words of the message: its bytes stand with the greatest first. */
// @ts-ignore: decorator of AssemblyScript
@inline
function fresh(at: usize): v128 {
  return i8x16.shuffle(v128.load(at), i32x4.splat(0), 3, 2, 1, 0, 7, 6, 5, 4, 11, 10, 9, 8, 15, 14, 13, 12);
}
/** The next four words of the schedule after `a`, `b`, `c` and `d`. */
// @ts-ignore: decorator of AssemblyScript
@inline
function following(a: v128, b: v128, c: v128, d: v128): v128 {
  // W[t-15] and W[t-7] lie across two of them.
  const w15 = i8x16.shuffle(a, b, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19);
  const w7 = i8x16.shuffle(c, d, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19);
  const sum = i32x4.add(i32x4.add(a, smallSigma0(w15)), w7);
  // The last two of the four need the first two.
  const nought = i32x4.splat(0);
  const low = i32x4.add(sum, smallSigma1(i8x16.shuffle(d, nought, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23)));
  const high = smallSigma1(i8x16.shuffle(nought, low, 0, 1, 2, 3, 4, 5, 6, 7, 16, 17, 18, 19, 20, 21, 22, 23));
  return i32x4.add(low, high);
}
// @ts-ignore: decorator of AssemblyScript
@inline
function bigSigma1(e: u32): u32 {
  return rotr<u32>(e, 6) ^ rotr<u32>(e, 11) ^ rotr<u32>(e, 25);
}
// @ts-ignore: decorator of AssemblyScript
@inline
function bigSigma0(a: u32): u32 {
  return rotr<u32>(a, 2) ^ rotr<u32>(a, 13) ^ rotr<u32>(a, 22);
}
// @ts-ignore: decorator of AssemblyScript
@inline
function choose(e: u32, f: u32, g: u32): u32 {
  return g ^ (e & (f ^ g));
}
/** 6.2.2, over `count` blocks of 64 bytes from `at` on. Four words of the schedule are made beside the four rounds that use their like. */
export function blocks(at: usize, count: u32): void {
  let a0 = load<u32>(S, 0);
  let b0 = load<u32>(S, 4);
  let c0 = load<u32>(S, 8);
  let d0 = load<u32>(S, 12);
  let e0 = load<u32>(S, 16);
  let f0 = load<u32>(S, 20);
  let g0 = load<u32>(S, 24);
  let h0 = load<u32>(S, 28);
  for (let n: u32 = 0; n < count; n++, at += 64) {
    let w0 = fresh(at);
    let w1 = fresh(at + 16);
    let w2 = fresh(at + 32);
    let w3 = fresh(at + 48);
    let a = a0;
    let b = b0;
    let c = c0;
    let d = d0;
    let e = e0;
    let f = f0;
    let g = g0;
    let h = h0;
    // Eight rounds at a time: the letters move round instead of the values.
    for (let t: usize = 0; t < 256; t += 64) {
      const plus0 = i32x4.add(w0, v128.load(K + t + 0));
      if (t < 192) w0 = following(w0, w1, w2, w3);
      h += bigSigma1(e) + choose(e, f, g) + <u32>i32x4.extract_lane(plus0, 0);
      d += h;
      h += bigSigma0(a) + ((a & b) ^ (c & (a ^ b)));
      g += bigSigma1(d) + choose(d, e, f) + <u32>i32x4.extract_lane(plus0, 1);
      c += g;
      g += bigSigma0(h) + ((h & a) ^ (b & (h ^ a)));
      f += bigSigma1(c) + choose(c, d, e) + <u32>i32x4.extract_lane(plus0, 2);
      b += f;
      f += bigSigma0(g) + ((g & h) ^ (a & (g ^ h)));
      e += bigSigma1(b) + choose(b, c, d) + <u32>i32x4.extract_lane(plus0, 3);
      a += e;
      e += bigSigma0(f) + ((f & g) ^ (h & (f ^ g)));
      const plus1 = i32x4.add(w1, v128.load(K + t + 16));
      if (t < 192) w1 = following(w1, w2, w3, w0);
      d += bigSigma1(a) + choose(a, b, c) + <u32>i32x4.extract_lane(plus1, 0);
      h += d;
      d += bigSigma0(e) + ((e & f) ^ (g & (e ^ f)));
      c += bigSigma1(h) + choose(h, a, b) + <u32>i32x4.extract_lane(plus1, 1);
      g += c;
      c += bigSigma0(d) + ((d & e) ^ (f & (d ^ e)));
      b += bigSigma1(g) + choose(g, h, a) + <u32>i32x4.extract_lane(plus1, 2);
      f += b;
      b += bigSigma0(c) + ((c & d) ^ (e & (c ^ d)));
      a += bigSigma1(f) + choose(f, g, h) + <u32>i32x4.extract_lane(plus1, 3);
      e += a;
      a += bigSigma0(b) + ((b & c) ^ (d & (b ^ c)));
      const plus2 = i32x4.add(w2, v128.load(K + t + 32));
      if (t < 192) w2 = following(w2, w3, w0, w1);
      h += bigSigma1(e) + choose(e, f, g) + <u32>i32x4.extract_lane(plus2, 0);
      d += h;
      h += bigSigma0(a) + ((a & b) ^ (c & (a ^ b)));
      g += bigSigma1(d) + choose(d, e, f) + <u32>i32x4.extract_lane(plus2, 1);
      c += g;
      g += bigSigma0(h) + ((h & a) ^ (b & (h ^ a)));
      f += bigSigma1(c) + choose(c, d, e) + <u32>i32x4.extract_lane(plus2, 2);
      b += f;
      f += bigSigma0(g) + ((g & h) ^ (a & (g ^ h)));
      e += bigSigma1(b) + choose(b, c, d) + <u32>i32x4.extract_lane(plus2, 3);
      a += e;
      e += bigSigma0(f) + ((f & g) ^ (h & (f ^ g)));
      const plus3 = i32x4.add(w3, v128.load(K + t + 48));
      if (t < 192) w3 = following(w3, w0, w1, w2);
      d += bigSigma1(a) + choose(a, b, c) + <u32>i32x4.extract_lane(plus3, 0);
      h += d;
      d += bigSigma0(e) + ((e & f) ^ (g & (e ^ f)));
      c += bigSigma1(h) + choose(h, a, b) + <u32>i32x4.extract_lane(plus3, 1);
      g += c;
      c += bigSigma0(d) + ((d & e) ^ (f & (d ^ e)));
      b += bigSigma1(g) + choose(g, h, a) + <u32>i32x4.extract_lane(plus3, 2);
      f += b;
      b += bigSigma0(c) + ((c & d) ^ (e & (c ^ d)));
      a += bigSigma1(f) + choose(f, g, h) + <u32>i32x4.extract_lane(plus3, 3);
      e += a;
      a += bigSigma0(b) + ((b & c) ^ (d & (b ^ c)));
    }
    a0 += a;
    b0 += b;
    c0 += c;
    d0 += d;
    e0 += e;
    f0 += f;
    g0 += g;
    h0 += h;
  }
  store<u32>(S, a0, 0);
  store<u32>(S, b0, 4);
  store<u32>(S, c0, 8);
  store<u32>(S, d0, 12);
  store<u32>(S, e0, 16);
  store<u32>(S, f0, 20);
  store<u32>(S, g0, 24);
  store<u32>(S, h0, 28);
}
