/** The states that the whole reading tells apart; a parked vehicle's sleep is looked for afterwards, within each stand. */
export const STATES = ['parked', 'key-on', 'driving', 'on-charger', 'top-up', 'unknown'] as const;

export type State = (typeof STATES)[number];

/** Short words of what tells a state; they stand in `report.json` with each period. */
export type EvidenceKey =
  | 'crank'
  | 'current-in'
  | 'charging-voltage'
  | 'restless'
  | 'steady'
  | 'no-start'
  | 'goes-on'
  | 'key-on-draw'
  | 'draw-falls'
  | 'sleeping-level'
  | 'above-sleeping-level'
  | 'below-sleeping-level'
  | 'contradictory'
  | 'no-current'
  | 'log-edge'
  | 'no-rows'
  | 'impossible-voltage';
