/** Kinds of starter battery that the tables here know. `efb` is flooded with additives; `agm` and `gel` are valve-regulated. */
export type Chemistry = 'flooded' | 'efb' | 'agm' | 'gel' | 'lfp';

/** Nominal voltage of the vehicle's system, V. */
export type SystemVoltage = 6 | 12 | 24;

/** The span in which published figures, or the sources behind a figure, lie. Same unit for both ends. */
export interface Span {
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
