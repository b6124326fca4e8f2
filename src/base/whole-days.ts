/** A range of days as a person says it: those that nobody can count on are none, and the long end lies above the short one. */
export interface WholeDays {
  readonly low: number;
  /** Tenths where it is less than two. */
  readonly high: number;
}

const DAY_S = 86_400;

/** Takes s. */
export function wholeDays(lowS: number, highS: number): WholeDays {
  // What a computer adds up to a hair less than a day is one.
  const low = Math.max(0, Math.floor(lowS / DAY_S + 1e-6));
  const days = Math.max(0, highS / DAY_S);
  return { low, high: days < 2 ? Math.max(0.1, Math.round(days * 10) / 10) : Math.max(Math.round(days), low + 1) };
}
