/**
 * Kinds of 12 V battery that the tables here know. `efb` is flooded with additives; `agm` and `gel` are valve-regulated; `lfp` is
 * lithium iron phosphate; `nmc` is lithium nickel manganese cobalt, as some electric cars carry it.
 */
export const CHEMISTRIES = ['flooded', 'efb', 'agm', 'gel', 'lfp', 'nmc'] as const;
export type Chemistry = (typeof CHEMISTRIES)[number];

export function isLithium(chemistry: Chemistry): chemistry is 'lfp' | 'nmc' {
  return chemistry === 'lfp' || chemistry === 'nmc';
}

/** Nominal voltage of the vehicle's system, V. */
export type SystemVoltage = 6 | 12 | 24;

/** The span in which published figures, or the sources behind a figure, lie. Same unit for both ends. */
export interface Range {
  readonly low: number;
  readonly high: number;
}

/**
 * Factor from the 12 V figures that nearly all tables print to another system voltage: cells in series share the
 * voltage evenly. For 24 V, two batteries in series, only their mean is seen: one flat battery can hide behind a good one.
 */
export function perTwelveVolt(systemV: SystemVoltage): number {
  return systemV / 12;
}
