/** The manifest that an honest technician would write for a scenario, as the analysis takes it. */
import type { Scenario } from '../../src/demo/scenario.ts';
import { statedAccuracy } from '../../src/demo/sensor.ts';
import type { LogAccount } from '../../src/log/block.ts';
import type { Session } from '../../src/manifest/session.ts';

/** What the reader would tell of a log without damage. */
export function cleanLog(gaps: LogAccount['gaps']): LogAccount {
  return { files: [], rows: 0, rowsRejected: 0, faults: [], gaps, understood: [] };
}

export function sessionFor(scenario: Scenario): Session {
  const { sensor, battery } = scenario;
  return {
    folder: 'simulated',
    id: `simulated-${scenario.stream}`,
    title: 'Simulated',
    purpose: 'baseline',
    timezone: 'UTC',
    vehicle: { description: 'simulated', powertrain: scenario.powertrain, systemV: scenario.systemV },
    battery: {
      chemistry: battery.chemistry,
      capacityAh: battery.capacityAh,
      ...(battery.rating && { coldCrankingA: battery.rating.coldCrankingA }),
      ...(battery.rating?.standard && { crankingStandard: battery.rating.standard }),
    },
    log: {
      files: ['log/*.csv'],
      skipRows: 0,
      columns: {
        time: { name: 'time' },
        voltage: { name: 'battery_V', unit: 'V', accuracy: { relative: 0.001, absolute: 0.005 } },
        ...(sensor.hasCurrent && {
          current: {
            name: 'battery_A',
            unit: 'A',
            positive: 'charging',
            accuracy: statedAccuracy(sensor),
            rangeA: sensor.rangeA,
          },
        }),
        ...(sensor.hasTemperature && { temperature: { name: 'temp_c', unit: '°C' } }),
      },
      channels: scenario.channels.map((channel, k) => ({
        name: `in${k + 1}_v`,
        label: channel.label,
        unit: 'V',
        measures: channel.measures,
        ...(channel.measures === 'supply' && { activeAboveV: scenario.systemV / 2 }),
      })),
    },
    limits: {},
    install: {},
    notes: [],
    photos: [],
  };
}
