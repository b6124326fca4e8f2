/** Options that hold a quantity with its unit; a fault is one of the call's words (exit code 2). */
import { InvalidArgumentError, Option } from 'commander';
import { UserError } from '../base/problem.ts';
import { type Dimension, parseAccuracy, parseQuantity, unitsTaken } from '../manifest/quantity.ts';

interface Bounds {
  /** Least that is taken; by default anything above nought. */
  readonly from?: number;
  readonly to?: number;
}

/** `--step <duration>` with its description; the value comes in SI. */
export function quantityOption(flags: string, dimension: Dimension, description: string, bounds: Bounds = {}): Option {
  return new Option(flags, description).argParser((text: string) => {
    const value = taken(() => parseQuantity(text, dimension));
    const fits = bounds.from === undefined ? value > 0 : value >= bounds.from;
    if (!fits || value > (bounds.to ?? Number.POSITIVE_INFINITY))
      throw new InvalidArgumentError(`That is not plausible here. Expected: ${unitsTaken(dimension)}.`);
    return value;
  });
}

export function accuracyOption(flags: string, dimension: 'current', description: string): Option {
  return new Option(flags, description).argParser((text: string) => taken(() => parseAccuracy(text, dimension)));
}

/** A whole number of 1 or more. */
export function countOption(flags: string, description: string, to: number): Option {
  return new Option(flags, description).argParser((text: string) => {
    const n = Number(text);
    if (!Number.isInteger(n) || n < 1 || n > to)
      throw new InvalidArgumentError(`Expected: a whole number from 1 to ${to}.`);
    return n;
  });
}

function taken<T>(read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (error instanceof UserError) throw new InvalidArgumentError(error.message);
    throw error;
  }
}
