/** Contrast of colours as WCAG 2.2 defines it (relative luminance and contrast ratio; seen). */

type Rgb = readonly [number, number, number];

/** `#17527f` to 0…255 each; null for what is no such colour. */
export function parseColour(text: string): Rgb | null {
  const [, r, g = '', b = ''] = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(text) ?? [];
  return r === undefined ? null : [Number.parseInt(r, 16), Number.parseInt(g, 16), Number.parseInt(b, 16)];
}

export function contrast(a: Rgb, b: Rgb): number {
  const [one, other] = [luminance(a), luminance(b)];
  return (Math.max(one, other) + 0.05) / (Math.min(one, other) + 0.05);
}

function luminance([r, g, b]: Rgb): number {
  return 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
}

function linear(part: number): number {
  const share = part / 255;
  return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
}

/** The colour itself, or mixed with `toward` just far enough, in steps of 1/50, to reach `ratio` against `ground`. */
export function withContrast(colour: Rgb, ground: Rgb, toward: Rgb, ratio: number): string {
  const mixed = (share: number): Rgb => {
    const part = (k: 0 | 1 | 2) => Math.round(colour[k] + (toward[k] - colour[k]) * share);
    return [part(0), part(1), part(2)];
  };
  const steps = Array.from({ length: 51 }, (_, k) => mixed(k / 50));
  const found = steps.find((step) => contrast(step, ground) >= ratio) ?? toward;
  return `#${found.map((part) => part.toString(16).padStart(2, '0')).join('')}`;
}
