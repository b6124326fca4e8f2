/** Families of vehicles and logs that make the reading of states hard, each by number. */
import type { Scenario } from '../../src/demo/scenario.ts';

export type Family = (number: number) => Scenario;

export const FAMILIES: Readonly<Record<string, Family>> = {};
