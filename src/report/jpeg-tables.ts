/** What reading and writing a JPEG share (ITU-T T.81; tables seen in print and in free encoders). */

/** Place of each coefficient, in the order of the file, in a block of 8 rows of 8 (Figure A.6). */
export const ZIGZAG: readonly number[] = zigzag();

function zigzag(): number[] {
  const places = Array.from({ length: 64 }, (_, place) => place);
  // Along diagonals, which run up and down in turn.
  const key = (place: number) => {
    const [row, column] = [place >> 3, place & 7];
    const diagonal = row + column;
    return diagonal * 8 + (diagonal % 2 === 0 ? column : row);
  };
  return places.sort((a, b) => key(a) - key(b));
}

/** Cosine transform of `n` values, orthonormal: row `x` holds the share of each frequency in value `x`. */
export function cosines(n: number): Float64Array {
  return Float64Array.from({ length: n * n }, (_, at) => {
    const [x, u] = [Math.floor(at / n), at % n];
    return Math.sqrt((u === 0 ? 1 : 2) / n) * Math.cos(((2 * x + 1) * u * Math.PI) / (2 * n));
  });
}

/** A Huffman table as a file states it: how many codes there are of each length from 1 to 16 bits, and what they mean. */
export interface HuffmanTable {
  readonly counts: Uint8Array;
  readonly symbols: Uint8Array;
}

const bytes = (hex: string) => Uint8Array.from(hex.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));

/** Tables K.3 and K.5: made for brightness; colours take them too, at a few bytes more. */
export const HUFFMAN: { readonly dc: HuffmanTable; readonly ac: HuffmanTable } = {
  dc: { counts: bytes('00010501010101010100000000000000'), symbols: bytes('000102030405060708090a0b') },
  ac: {
    counts: bytes('0002010303020403050504040000017d'),
    symbols: bytes(
      '01020300041105122131410613516107227114328191a1082342b1c11552d1f02433627282090a161718191a25262728292a3435363738393a' +
        '434445464748494a535455565758595a636465666768696a737475767778797a838485868788898a92939495969798999aa2a3a4a5a6a7a8a9' +
        'aab2b3b4b5b6b7b8b9bac2c3c4c5c6c7c8c9cad2d3d4d5d6d7d8d9dae1e2e3e4e5e6e7e8e9eaf1f2f3f4f5f6f7f8f9fa',
    ),
  },
};

/** Tables K.1 and K.2, row by row: how coarsely each frequency of brightness and of colours may be kept at half quality. */
export const COARSENESS: { readonly brightness: readonly number[]; readonly colour: readonly number[] } = {
  brightness: [
    16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55, 14, 13, 16, 24, 40, 57, 69, 56, 14, 17, 22, 29, 51,
    87, 80, 62, 18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92, 49, 64, 78, 87, 103, 121, 120, 101,
    72, 92, 95, 98, 112, 100, 103, 99,
  ],
  colour: [
    17,
    18,
    24,
    47,
    99,
    99,
    99,
    99,
    18,
    21,
    26,
    66,
    99,
    99,
    99,
    99,
    24,
    26,
    56,
    99,
    99,
    99,
    99,
    99,
    47,
    66,
    99,
    99,
    99,
    99,
    99,
    99,
    ...new Array<number>(32).fill(99),
  ],
};
