/**
 * Answers that a sound report may give about the battery, where a scenario leaves no doubt: charge, depth of discharge,
 * frost, heat, cranking, resistance, standing time. Limits are the trade's published ones; how close the vehicle is to them
 * comes from the simulation alone. What needs a rested charge may stay `undecided`: not every log holds one.
 */
import { chargeToNoStartAh } from '../battery/capacity.ts';
import { HEAT_LIMIT_C } from '../battery/charging.ts';
import { isLithium, perTwelveVolt } from '../battery/chemistry.ts';
import { crankingMinimumV } from '../battery/cranking.ts';
import { freezingPointC } from '../battery/freezing.ts';
import { ratedResistanceOhm } from '../battery/rated-resistance.ts';
import { selfLossPerDay } from './battery-model.ts';
import { longRunDraw } from './expected-wakes.ts';
import { type Expected, isPlateauSeen, middle, type Simulated, seesAll } from './simulated.ts';

/** 10.5 V for lead, 2.5 V a cell for lfp; per 12 V. */
const LOWEST_V = { lead: 10.5, lfp: 10 };
/** A fortnight. */
const STAND_DAYS = 14;
const GOOD_CHARGE = 0.75;
/** A battery at rest below about 12.0 V is called hard to fill (a vehicle maker's bulletin, second-hand). */
const HARD_TO_FILL = 0.4;
/** Season and night of frost, °C. */
const SEASON_C = 10;
const WINTER_NIGHT_C = -20;

export function expectedOfBattery(simulated: Simulated): Expected {
  return {
    ...restingCharge(simulated),
    ...deepDischarge(simulated),
    ...frost(simulated),
    ...heat(simulated),
    ...standTime(simulated),
    ...crankVoltage(simulated),
    ...resistance(simulated),
  };
}

const chargesOf = ({ truth }: Simulated) =>
  truth.parked.flatMap(({ charge }) => [charge.start, charge.end, charge.low]);

function restingCharge(simulated: Simulated): Expected {
  const charges = chargesOf(simulated);
  const [low, high] = [Math.min(...charges), Math.max(...charges)];
  if (high < GOOD_CHARGE - 0.05) return { 'resting-charge': ['fault', 'undecided'] };
  // A charge that is still good and fell by much is worth watching.
  if (low > GOOD_CHARGE + 0.05)
    return { 'resting-charge': ['clear', 'undecided', ...(high - low > 0.1 ? (['watch'] as const) : [])] };
  return {};
}

function deepDischarge({ scenario, truth }: Simulated): Expected {
  const scale = perTwelveVolt(scenario.systemV);
  const limitV = scale * (isLithium(scenario.battery.chemistry) ? LOWEST_V.lfp : LOWEST_V.lead);
  const lowest = truth.parked.map(({ lowestV }) => lowestV).filter((volts) => !Number.isNaN(volts));
  if (lowest.length === 0) return {};
  const leastV = Math.min(...lowest);
  if (leastV < limitV - 0.1 * scale) return { 'deep-discharge': ['fault', 'watch'] };
  const leastCharge = Math.min(...truth.parked.map(({ charge }) => charge.low));
  // A draw that the log does not show makes a loaded battery look empty; and what stays at less than about 12.0 V is hard to fill.
  return leastV > limitV + 0.1 * scale && leastCharge > HARD_TO_FILL && seesAll(scenario)
    ? { 'deep-discharge': ['clear'] }
    : {};
}

function frost({ scenario, truth }: Simulated): Expected {
  if (!scenario.sensor.hasTemperature) return {};
  if (isLithium(scenario.battery.chemistry)) return { 'freeze-risk': ['undecided'] };
  const scale = perTwelveVolt(scenario.systemV);
  // Emptier than empty the acid nears water: no table holds.
  if (truth.parked.some(({ lowestV }) => lowestV < (LOWEST_V.lead + 0.2) * scale)) return {};
  const stands = truth.parked
    .filter(({ coldestC }) => Number.isFinite(coldestC))
    .map(({ charge, coldestC }) => ({
      belowC: freezingPointC(Math.max(charge.start, charge.end)).low - coldestC,
      aboveC: coldestC - freezingPointC(Math.max(0, charge.low)).high,
      low: charge.low,
      coldestC,
    }));
  // Where the log leaves it open, doubt is a warning.
  if (stands.some(({ belowC }) => belowC > 2.5)) return { 'freeze-risk': ['fault', 'watch', 'undecided'] };
  const safe = stands.length > 0 && stands.every(({ aboveC }) => aboveC > 2.5);
  if (!safe) return {};
  const lastC = freezingPointC(Math.max(0, Math.min(...stands.map(({ low }) => low)))).low;
  const winter = lastC > WINTER_NIGHT_C - 2 && Math.min(...stands.map(({ coldestC }) => coldestC)) < SEASON_C + 1;
  return { 'freeze-risk': winter ? ['clear', 'watch', 'undecided'] : ['clear', 'undecided'] };
}

function heat({ scenario, truth }: Simulated): Expected {
  if (!scenario.sensor.hasTemperature) return {};
  const { chargedC, everC } = truth.extremes;
  // Heat alone is watched: a fault is heat that too high a voltage makes.
  if (chargedC > HEAT_LIMIT_C + 1.5) return { 'battery-heat': ['fault', 'watch'] };
  if (everC < HEAT_LIMIT_C - 1) return { 'battery-heat': ['clear'] };
  return {};
}

function standTime(simulated: Simulated): Expected {
  const draw = longRunDraw(simulated);
  if (!draw) return {};
  const { battery, climate } = simulated.scenario;
  const charges = chargesOf(simulated);
  const days = (toLoseAh: number, drawA: number) =>
    toLoseAh / (24 * drawA + battery.capacityAh * selfLossPerDay(battery.chemistry, climate.meanC));
  const short = days(chargeToNoStartAh(battery.capacityAh, Math.min(...charges)).low, draw.highA);
  const long = days(chargeToNoStartAh(battery.capacityAh, Math.max(...charges)).high, draw.lowA);
  if (long < 0.9 * STAND_DAYS) return { 'stand-time': ['fault', 'undecided'] };
  if (short > 1.1 * STAND_DAYS) return { 'stand-time': ['clear', 'undecided'] };
  return {};
}

function crankVoltage({ scenario, truth }: Simulated): Expected {
  if (scenario.powertrain === 'electric') return { 'crank-voltage': ['undecided'] };
  const cranks = truth.cranks.filter((crank) => isPlateauSeen(crank, scenario));
  if (cranks.length === 0) return {};
  const scale = perTwelveVolt(scenario.systemV);
  const above = cranks.map(({ voltsCranking, temperatureC }) => {
    const volts = voltsCranking ?? Number.NaN;
    // Without a temperature only what holds at all of them is clear-cut.
    const limit = (otherwise: number) =>
      crankingMinimumV(scenario.systemV, scenario.sensor.hasTemperature ? temperatureC : otherwise);
    return { least: volts - limit(30), most: volts - limit(-30) };
  });
  if (above.some(({ most }) => most < -0.08 * scale)) return { 'crank-voltage': ['fault', 'watch'] };
  if (above.every(({ least }) => least > 0.08 * scale)) return { 'crank-voltage': ['clear'] };
  return {};
}

function resistance(simulated: Simulated): Expected {
  const { scenario, truth } = simulated;
  const { battery, systemV, sensor } = scenario;
  if (scenario.powertrain === 'electric') return { 'battery-resistance': ['undecided'] };
  if (!battery.rating || isLithium(battery.chemistry) || !seesAll(scenario)) return {};
  const { coldCrankingA, standard = 'SAE' } = battery.rating;
  const limitOhm = ratedResistanceOhm({ coldCrankingA, standard, systemV, temperatureC: null });
  const cranks = truth.cranks.filter((crank) => isPlateauSeen(crank, scenario));
  if (cranks.length === 0 || cranks.some((crank) => crank.ampsPeak > 0.9 * sensor.rangeA)) return {};
  const lowOhm = middle(cranks.map((crank) => crank.resistanceOhm));
  const highOhm = middle(cranks.map((crank) => crank.resistanceHighOhm));
  // Colder than the rating's own temperature it says nothing.
  const cold = cranks.some((crank) => crank.temperatureC < -17);
  if (lowOhm > 1.06 * limitOhm)
    return { 'battery-resistance': cold ? ['undecided', 'fault', 'watch'] : ['fault', 'watch'] };
  const ohms = cranks.map((crank) => crank.resistanceOhm);
  const rises = Math.max(...ohms) > 1.15 * Math.min(...ohms);
  // Of a battery that is near its rating the ohmic part alone tells nothing, and a warm one is held to less.
  if (highOhm < 0.5 * limitOhm) return { 'battery-resistance': rises ? ['clear', 'watch'] : ['clear'] };
  if (highOhm < 0.94 * limitOhm)
    return { 'battery-resistance': rises ? ['clear', 'watch', 'undecided'] : ['clear', 'undecided'] };
  return {};
}
