import { describe, expect, it } from 'vitest';
import { type Problem, UserError } from '../../src/base/problem.ts';
import { readSession, resolveLogFiles } from '../../src/manifest/read-session.ts';
import { EXAMPLE, exampleFiles, FOLDER } from './example.ts';

function problemsOf(manifest: string | Uint8Array, others?: Record<string, string>): readonly Problem[] {
  try {
    readSession(FOLDER, exampleFiles(manifest, others));
  } catch (error) {
    if (error instanceof UserError) return error.problems;
    throw error;
  }
  return [];
}

/** The example with one text replaced, which must be there. */
function edited(from: string, to: string): string {
  expect(EXAMPLE).toContain(from);
  return EXAMPLE.replace(from, () => to);
}

describe('a battery whose label gives a reserve capacity alone', () => {
  const batteryOf = (manifest: string) => readSession(FOLDER, exampleFiles(manifest)).battery;

  it('has the capacity that this is likely to stand for, and says so', () => {
    // EN 50342-1 (from memory): RC = 0.7732 · C20^1.1828, so that 120 min are 71.17 Ah.
    const battery = batteryOf(edited('  capacity: 70 Ah', '').replace(/^\s*# 20-hour rating\n/m, ''));
    expect(battery.capacityAh).toBeCloseTo(71.17, 2);
    expect(battery.capacityFrom).toBe('reserve capacity');
  });

  it('has none where the chemistry has no such relation', () => {
    const lithium = edited('chemistry: flooded', 'chemistry: lfp').replace('  capacity: 70 Ah', '');
    expect(batteryOf(lithium).capacityAh).toBeUndefined();
  });
});

describe('the example', () => {
  const session = readSession(FOLDER, exampleFiles());

  it('is read whole', () => {
    expect(session).toEqual({
      folder: FOLDER,
      id: 'harbour-van-march',
      title: 'Flat after a weekend',
      purpose: 'complaint',
      concern: 'Will not start after two days parked',
      repairOrder: 'HL-20431',
      technician: 'D. Okafor',
      timezone: 'Europe/Dublin',
      vehicle: {
        description: '2017 panel van, 2.0 diesel',
        registration: '171-D-00000',
        odometerKm: 84210,
        powertrain: 'combustion',
        systemV: 12,
      },
      battery: {
        chemistry: 'flooded',
        capacityAh: 70,
        coldCrankingA: 680,
        crankingStandard: 'EN',
        reserveCapacityMin: 120,
        fitted: '2022-05',
      },
      log: {
        files: ['log/*.csv'],
        filesAt: [{ line: 24, column: 11 }],
        delimiter: ',',
        decimal: '.',
        skipRows: 0,
        startMs: Date.UTC(2026, 2, 3, 17, 40),
        columns: {
          time: { name: 'time', format: 'iso', at: { line: 30, column: 25 } },
          voltage: {
            name: 'battery_v',
            unit: 'V',
            accuracy: { relative: 0.001, absolute: 0.01 },
            at: { line: 31, column: 25 },
          },
          current: {
            name: 'battery_a',
            unit: 'A',
            positive: 'charging',
            accuracy: { relative: 0.01, absolute: 0.005 },
            rangeA: 500,
            at: { line: 32, column: 25 },
          },
          temperature: { name: 'temp_c', unit: '°C', at: { line: 33, column: 25 } },
        },
        channels: [
          {
            name: 'in2_v',
            label: 'Tracker supply',
            unit: 'V',
            activeAboveV: 6,
            measures: 'supply',
            at: { line: 35, column: 14 },
          },
        ],
      },
      limits: {
        parkedDraw: { value: 0.05, source: "Vehicle maker's service information" },
        sleepWithin: { value: 1800, source: 'set in session.yaml' },
      },
      install: {
        fittedAtMs: Date.UTC(2026, 2, 3, 17, 30),
        removedAtMs: Date.UTC(2026, 2, 8, 9),
        memorySaver: { used: true, voltageBeforeV: 12.5, voltageDuringV: 13.4 },
        clockChecked: true,
        ampHoursCleared: true,
        currentSensorPlace: 'negative cable',
      },
      notes: [{ atMs: Date.UTC(2026, 2, 4, 18, 20), text: 'Locked with the remote, bonnet closed' }],
      photos: [{ file: 'photos/battery.jpg' }],
    });
  });

  it('leads to its log files', () => {
    expect(resolveLogFiles(session, exampleFiles())).toEqual(['log/day1.csv']);
    expect(() => resolveLogFiles(session, exampleFiles(EXAMPLE, {}))).toThrow(
      'session.yaml:24:11 log.files[0]: "log/*.csv" matches no file',
    );
  });

  it('lists only the limits that are set', () => {
    expect(Object.keys(session.limits)).toEqual(['parkedDraw', 'sleepWithin']);
    expect(session.limitsFrom).toBeUndefined();
  });

  it('takes a session as the source of the other limits, and its place', () => {
    const text = EXAMPLE.replace('  sleep_within: 30 min', '  from: harbour-van-baseline');
    const { limits, limitsFrom } = readSession(FOLDER, exampleFiles(text));
    expect(Object.keys(limits)).toEqual(['parkedDraw']);
    expect(limitsFrom).toEqual({ id: 'harbour-van-baseline', at: { line: 38, column: 9 } });
  });

  it('takes several of them', () => {
    const text = EXAMPLE.replace('  sleep_within: 30 min', '  from: [harbour-van-1, harbour-van-2]');
    expect(readSession(FOLDER, exampleFiles(text)).limitsFrom).toMatchObject({
      id: 'harbour-van-1',
      more: ['harbour-van-2'],
    });
    const wrong = EXAMPLE.replace('  sleep_within: 30 min', '  from: {}');
    expect(() => readSession(FOLDER, exampleFiles(wrong))).toThrow('Expected: the id of a healthy session');
  });
});

describe('the least that is taken', () => {
  const least = `standstill: 1
session: {id: a1, title: T, purpose: baseline, timezone: UTC}
vehicle: {description: Van, powertrain: electric, system_voltage: 24V}
battery: {chemistry: lfp}
log:
  files: [log/day1.csv]
  columns: {time: {name: date, clock: 2}, voltage: {name: 3, unit: mV}}
limits:
`;
  it('has defaults for the rest', () => {
    const session = readSession(FOLDER, exampleFiles(least));
    expect(session.log.skipRows).toBe(0);
    expect(session.log.columns.time).toMatchObject({ name: 'date', clock: 2 });
    expect(session.log.columns.time?.format).toBeUndefined();
    expect(session.log.columns.voltage.name).toBe(3);
    expect(session.log.columns.current).toBeUndefined();
    expect(session).toMatchObject({ limits: {}, notes: [], photos: [], vehicle: { systemV: 24 } });
    expect(session.log.channels).toEqual([]);
  });

  it('keeps text that looks like a number, a boolean or a date', () => {
    const vehicle =
      'vehicle: {description: 2017, registration: 00123, vin: 12345678901234567, powertrain: electric, system_voltage: 24 V}';
    const session = readSession(
      FOLDER,
      exampleFiles(least.replace(/vehicle:.*/, vehicle).replace('id: a1', 'id: 20431')),
    );
    expect(session.vehicle).toMatchObject({ description: '2017', registration: '00123', vin: '12345678901234567' });
    expect(session.id).toBe('20431');
  });

  it('tells column number 3 from a column named "3"', () => {
    expect(readSession(FOLDER, exampleFiles(least.replace('name: 3', 'name: "3"'))).log.columns.voltage.name).toBe('3');
  });
});

describe('other ways to say it', () => {
  it('takes every limit', () => {
    const limits = `limits:
  parked_draw: 35 mA
  stand_time: {min: 14 d, source: Fleet rule}
  resting_charge: 75 %
  cranking_voltage: {min: 9.6 V}
  charging_voltage: {min: 13.7 V, max: 14.8 V, source: Maker}
`;
    const session = readSession(FOLDER, exampleFiles(EXAMPLE.replace(/limits:[\s\S]*?(?=install:)/, limits)));
    const source = 'set in session.yaml';
    expect(session.limits).toEqual({
      parkedDraw: { value: 0.035, source },
      standTime: { value: 1_209_600, source: 'Fleet rule' },
      restingCharge: { value: 0.75, source },
      crankingVoltage: { value: 9.6, source },
      chargingVoltageMin: { value: 13.7, source: 'Maker' },
      chargingVoltageMax: { value: 14.8, source: 'Maker' },
    });
  });

  it.each([
    ['tab', '\t'],
    ['"\\t"', '\t'],
    ['space', ' '],
    ['semicolon', ';'],
    ['"|"', '|'],
  ])('takes the delimiter %s', (written, delimiter) => {
    expect(readSession(FOLDER, exampleFiles(edited('delimiter: ","', `delimiter: ${written}`))).log.delimiter).toBe(
      delimiter,
    );
  });

  it('takes a time pattern, and an offset in a time', () => {
    const pattern = edited('format: iso', 'format: DD.MM.YYYY HH:mm:ss').replace('T17:30', 'T17:30+01:00');
    const session = readSession(FOLDER, exampleFiles(pattern));
    expect(session.log.columns.time?.format).toEqual({ pattern: 'DD.MM.YYYY HH:mm:ss' });
    expect(session.install.fittedAtMs).toBe(Date.UTC(2026, 2, 3, 16, 30));
  });

  it('reads local times in their zone', () => {
    const session = readSession(FOLDER, exampleFiles(edited('Europe/Dublin', 'America/New_York')));
    expect(session.install.removedAtMs).toBe(Date.UTC(2026, 2, 8, 13)); // the clock was set forward that night
  });

  it('takes a byte order mark and Windows line ends', () => {
    expect(readSession(FOLDER, exampleFiles(`\ufeff${EXAMPLE.replaceAll('\n', '\r\n')}`)).id).toBe('harbour-van-march');
  });
});

describe("the workshop's assessment", () => {
  const assessmentOf = (text: string) => readSession(FOLDER, exampleFiles(`${EXAMPLE}\n${text}\n`)).assessment;

  it('is taken as it is worded; all of it is optional', () => {
    expect(assessmentOf('assessment:\n  offers: [{work: New battery, price: 139.90}, Look at the lamp]')).toEqual({
      text: undefined,
      done: [],
      offers: [{ work: 'New battery', price: '139.90' }, { work: 'Look at the lamp' }],
    });
    expect(assessmentOf('assessment:')).toBeUndefined();
    expect(assessmentOf('assessment: {done: []}')).toBeUndefined();
  });

  it('has its faults told with their place', () => {
    const told = (text: string) => problemsOf(`${EXAMPLE}\n${text}\n`);
    expect(told('assessment: The tracker')).toMatchObject([{ path: 'assessment' }]);
    expect(told('assessment: {offers: [{wrok: x, price: 3}]}')).toMatchObject([
      { path: 'assessment.offers[0].work', message: expect.stringContaining('Missing') },
      { path: 'assessment.offers[0].wrok', message: expect.stringContaining('Did you mean work?') },
    ]);
    expect(told('assessment: {done: charged}')).toMatchObject([{ path: 'assessment.done' }]);
  });
});

describe('keys without a value', () => {
  const noteOf = (text: string) =>
    readSession(FOLDER, exampleFiles(edited('text: Locked with the remote, bonnet closed', text))).notes[0].text;

  it('in braces are the rest of the text that a comma cut', () => {
    expect(noteOf('text: Locked with the remote, bonnet closed')).toBe('Locked with the remote, bonnet closed');
    expect(noteOf('text: one, two, three, 4, true')).toBe('one, two, three, 4, true');
    expect(noteOf('text: "one, two"')).toBe('one, two');
    expect(noteOf('text: 1,5 A,  then\n      less')).toBe('1,5 A,  then less');
    const decimalComma = edited('0.1 % + 10 mV', '0,1 % + 10 mV');
    expect(readSession(FOLDER, exampleFiles(decimalComma)).log.columns.voltage.accuracy?.relative).toBe(0.001);
  });

  it('are unknown keys where no plain text stands before them', () => {
    expect(problemsOf(edited('text: Locked with the remote, bonnet closed', 'text: "Locked", bonnet'))).toMatchObject([
      { line: 47, column: 44, path: 'notes[0].bonnet', message: expect.stringContaining('Unknown key "bonnet".') },
    ]);
    expect(problemsOf(edited('  technician: D. Okafor', '  colour:'))).toMatchObject([
      { line: 8, column: 3, path: 'session.colour' },
    ]);
  });

  it('are not set where they are optional', () => {
    const session = readSession(FOLDER, exampleFiles(edited('D. Okafor', '')));
    expect(session.technician).toBeUndefined();
  });
});

describe('one mistake gives one problem with its place', () => {
  // [from, to, line, column, path, part of the message]
  const mistakes: [string, string, number, number, string, string][] = [
    ['standstill: 1', 'standstill: 2', 1, 13, 'standstill', 'Found 2. Expected: 1'],
    ['standstill: 1', 'standstil: 1', 1, 1, 'standstil', 'Did you mean standstill?'],
    ['harbour-van-march', 'harbour van', 3, 7, 'session.id', 'Found "harbour van". Expected: up to 64 letters'],
    ['harbour-van-march', 'com1', 3, 7, 'session.id', 'device on Windows'],
    ['title: Flat after a weekend', 'title: ""', 4, 10, 'session.title', 'Found empty text.'],
    ['title: Flat after a weekend', 'title: [a]', 4, 10, 'session.title', 'Found a list of 1. Expected: text.'],
    ['title: Flat after a weekend', 'title:', 4, 3, 'session.title', 'Missing. Expected: text.'],
    ['purpose: complaint', 'purpose: complant', 5, 12, 'session.purpose', 'Did you mean complaint?'],
    [
      'purpose: complaint',
      'purpose: other',
      5,
      12,
      'session.purpose',
      'Found "other". Expected: baseline, complaint or after-repair.',
    ],
    ['  purpose: complaint', '  # none', 2, 1, 'session.purpose', 'Missing. Expected: baseline'],
    ['repair_order', 'repair-ordr', 7, 3, 'session.repair-ordr', 'Did you mean repair_order?'],
    ['timezone: Europe/Dublin', 'timezone: Europe/Dublim', 9, 13, 'session.timezone', 'Did you mean Europe/Dublin?'],
    ['timezone: Europe/Dublin', 'timezone: 1', 9, 13, 'session.timezone', 'is not a time zone'],
    ['  timezone: Europe/Dublin', '  # none', 2, 1, 'session.timezone', 'Missing.'],
    ['84210 km', '84210', 13, 13, 'vehicle.odometer', 'Found 84210 without a unit. Expected: a distance in km or mi'],
    ['84210 km', '"84,210 km"', 13, 13, 'vehicle.odometer', 'can be read in two ways'],
    ['12 V ', '13 V ', 15, 19, 'vehicle.system_voltage', '6 V, 12 V or 24 V'],
    ['flooded ', 'floded ', 17, 14, 'battery.chemistry', 'Did you mean flooded?'],
    [
      '70 Ah',
      '7000 Ah',
      18,
      13,
      'battery.capacity',
      'Found "7000 Ah", which is not plausible here. Expected: 1 Ah to 500 Ah.',
    ],
    ['70 Ah', '70 A', 18, 13, 'battery.capacity', 'Found a current (A). Expected: a charge in Ah or mAh'],
    ['fitted: 2022-05', 'fitted: 2022-13', 22, 11, 'battery.fitted', 'Expected: a month or a day'],
    ['fitted: 2022-05', 'fitted: 2022', 22, 11, 'battery.fitted', 'Expected: a month or a day'],
    [
      'files: ["log/*.csv"]',
      'files: log/*.csv',
      24,
      10,
      'log.files',
      'Found "log/*.csv". Expected: a list, such as ["log/*.csv"].',
    ],
    ['files: ["log/*.csv"]', 'files: []', 24, 10, 'log.files', 'at least one name'],
    ['"log/*.csv"', '"logs/*.csv"', 24, 11, 'log.files[0]', '"logs/*.csv" matches no file'],
    ['"log/*.csv"', '"../x/*.csv"', 24, 11, 'log.files[0]', 'it leads out of the folder'],
    ['delimiter: ","', 'delimiter: tabs', 25, 14, 'log.delimiter', 'Did you mean tab?'],
    ['delimiter: ","', 'delimiter: "a"', 25, 14, 'log.delimiter', 'one character in quotes'],
    ['decimal: "."', 'decimal: ","', 26, 12, 'log.decimal', 'cannot both part the columns'],
    ['skip_rows: 0', 'skip_rows: -1', 27, 14, 'log.skip_rows', 'Found -1. Expected: a whole number from 0 to 10000.'],
    ['skip_rows: 0', 'skip_rows: 1.5', 27, 14, 'log.skip_rows', 'Found 1.5.'],
    ['start: 2026-03-03T17:40:00', 'start: 2026-02-30T17:40', 28, 10, 'log.start', 'Expected: a date and time'],
    ['  start: 2026-03-03T17:40:00', '  # none', 0, 0, '', ''],
    ['format: iso', 'format: epoch_ms', 30, 39, 'log.columns.time.format', 'Did you mean epoch-ms?'],
    [
      'format: iso',
      'format: DD.MM.YYYY',
      30,
      39,
      'log.columns.time.format',
      'lacks the year, month, day, hour or minute',
    ],
    ['format: iso', 'format: dd.MM.yyyy HH:mm', 30, 39, 'log.columns.time.format', 'which holds "dd"'],
    ['name: battery_v, ', '', 31, 5, 'log.columns.voltage.name', 'Missing. Expected: the name in the header row'],
    ['battery_v, unit: V', 'battery_v, unit: v', 31, 42, 'log.columns.voltage.unit', 'Did you mean V?'],
    [
      'unit: V, accuracy: 0.1 % + 10 mV',
      'unit: V, accuracy: 0.1 % + 10 mA',
      31,
      55,
      'log.columns.voltage.accuracy',
      'Found a current (mA)',
    ],
    [
      'battery_a, unit: A',
      'battery_a, unit: Amp',
      32,
      42,
      'log.columns.current.unit',
      'Found "Amp". Did you mean A? Expected: A or mA.',
    ],
    ['positive: charging, ', '', 32, 5, 'log.columns.current.positive', 'Missing. Expected: charging or discharging.'],
    [
      'name: battery_a',
      'name: battery_v',
      32,
      25,
      'log.columns.current.name',
      'Column "battery_v" is used twice: columns voltage has it already.',
    ],
    ['name: in2_v', 'name: temp_c', 35, 14, 'log.channels[0].name', 'used twice'],
    ['name: in2_v', 'name: 0', 35, 14, 'log.channels[0].name', 'or a column number from 1 to 1000'],
    ['active_above: 6 V', 'active_abov: 6 V', 35, 44, 'log.channels[0].active_abov', 'Did you mean active_above?'],
    ['active_above: 6 V', 'active_above: 6 V, active_below: 2 V', 35, 77, 'log.channels[0].active_below', 'not both'],
    [
      'max: 50 mA',
      'max: 50',
      37,
      22,
      'limits.parked_draw.max',
      'Found 50 without a unit. Expected: a current in A, mA or µA',
    ],
    ['max: 50 mA', 'min: 50 mA', 37, 17, 'limits.parked_draw.min', 'Unknown key "min".'],
    [
      'sleep_within: 30 min',
      'sleep_within: 30 V',
      38,
      17,
      'limits.sleep_within',
      'Found a voltage (V). Expected: a duration',
    ],
    [
      'sleep_within: 30 min',
      'sleep_within: 30',
      38,
      17,
      'limits.sleep_within',
      'Found 30 without a unit. Expected: a duration',
    ],
    ['sleep_within: 30 min', 'sleep_within: [1]', 38, 17, 'limits.sleep_within', 'Found a list of 1.'],
    [
      'sleep_within: 30 min',
      'charging_voltage: {min: 15 V, max: 14 V}',
      38,
      38,
      'limits.charging_voltage.max',
      'larger than min',
    ],
    ['sleep_within: 30 min', 'from: ../other', 38, 9, 'limits.from', 'Expected: up to 64 letters'],
    ['sleep_within: 30 min', 'from: harbour-van-march', 38, 9, 'limits.from', 'is this session itself'],
    ['sleep_within: 30 min', 'charging_voltage: {}', 38, 21, 'limits.charging_voltage', 'min, max or both'],
    ['2026-03-03T17:30', '2026-03-03', 40, 14, 'install.fitted_at', 'Expected: a date and time'],
    ['used: true', 'used: yes', 41, 24, 'install.memory_saver.used', 'Found "yes". Expected: true or false.'],
    ['2026-03-08T09:00', '2026-03-02T09:00', 45, 15, 'install.removed_at', 'removed before it was fitted'],
    [
      '2026-03-08T09:00',
      '2026-03-29T01:30',
      45,
      15,
      'install.removed_at',
      '2026-03-29 01:30 does not exist in Europe/Dublin',
    ],
    ['2026-03-08T09:00', '2026-10-25T01:30', 45, 15, 'install.removed_at', 'Write the offset too: +01:00 or +00:00.'],
    ['{at: 2026-03-04T18:20, text', '{at: 2026-03-04T18:20, txt', 47, 28, 'notes[0].txt', 'Did you mean text?'],
    [
      'photos: [photos/battery.jpg]',
      'photos: [photos/batery.jpg]',
      48,
      10,
      'photos[0]',
      'Did you mean "photos/battery.jpg"?',
    ],
    ['photos: [photos/battery.jpg]', 'photos: [log/day1.csv]', 48, 10, 'photos[0]', 'Expected: a photo as .png'],
    [
      '[photos/battery.jpg]',
      '[{file: photos/batery.jpg}]',
      48,
      17,
      'photos[0].file',
      'Did you mean "photos/battery.jpg"?',
    ],
    ['[photos/battery.jpg]', '[{file: log/day1.csv}]', 48, 17, 'photos[0].file', 'Expected: a photo as .png'],
    ['[photos/battery.jpg]', '[{fle: photos/battery.jpg}]', 48, 11, 'photos[0].fle', 'Did you mean file?'],
    ['[photos/battery.jpg]', '[{at: 2026-03-04T18:20}]', 48, 10, 'photos[0].file', 'Missing. Expected: text.'],
    [
      '[photos/battery.jpg]',
      '[{file: photos/battery.jpg, at: noon}]',
      48,
      41,
      'photos[0].at',
      'Found "noon". Expected: a date',
    ],
    [
      '[photos/battery.jpg]',
      '[{file: photos/battery.jpg, at: 2026-03-29T01:30}]',
      48,
      41,
      'photos[0].at',
      'does not exist in Europe/Dublin',
    ],
    ['[photos/battery.jpg]', '[[photos/battery.jpg]]', 48, 10, 'photos[0]', 'or a group with file, at and text'],
    ['  technician:', '  title: Again\n  technician:', 8, 3, '', 'This key stands twice'],
    ['D. Okafor', '*anchor', 8, 15, 'session.technician', 'Aliases (*name) are not supported'],
    ['D. Okafor', '!!binary aGk=', 8, 24, 'session.technician', 'Tags (!name) are not supported'],
    ['D. Okafor', '"un\\u0000dead"', 8, 15, 'session.technician', 'control character'],
    ['  technician: D. Okafor', '\ttechnician: x', 8, 1, '', 'A tab stands at the beginning of this line'],
    ['D. Okafor', '"open', 8, 20, '', 'A quotation mark is opened and not closed.'],
    ['capacity: 70 Ah', 'capacity:70 Ah', 18, 3, '', 'A space belongs behind the colon: capacity: 70 Ah'],
    ['  capacity: 70 Ah', '   capacity: 70 Ah', 18, 1, '', 'is indented otherwise than the keys of its group'],
    ['"log/*.csv"', '"log\\*.csv"', 24, 15, '', 'In a path write "/"'],
    ['"log/*.csv"', '“log/*.csv”', 24, 11, 'log.files[0]', 'typographic quotation mark'],
    ['powertrain: combustion', 'powertrain: Petrol', 14, 15, 'vehicle.powertrain', 'Did you mean combustion?'],
    ['chemistry: flooded', 'chemistry: lead acid', 17, 14, 'battery.chemistry', 'Did you mean flooded?'],
  ];

  it.each(mistakes)('%s → %s', (from, to, line, column, path, message) => {
    const problems = problemsOf(edited(from, to));
    if (message === '') {
      expect(problems).toEqual([]);
      return;
    }
    const said = problems.find((problem) => problem.message.includes(message));
    expect(problems.map((problem) => `${problem.path}: ${problem.message}`).join('\n')).toContain(message);
    expect(said).toMatchObject({ file: 'session.yaml', line, column });
    expect(said?.path ?? '').toBe(path);
  });
});

describe('many mistakes', () => {
  it('are told all at once, in the order of the file', () => {
    const manifest = EXAMPLE.replace('purpose: complaint', 'purpos: complaint')
      .replace('70 Ah', '70')
      .replace('unit: A,', 'unit: Amp,')
      .replace('2026-03-08T09:00', 'yesterday')
      .replace('"log/*.csv"', '"log/*.txt"')
      .replace('photos/battery.jpg', '/etc/passwd.png');
    expect(problemsOf(manifest).map(({ line, path }) => `${line} ${path}`)).toEqual([
      '2 session.purpose',
      '5 session.purpos',
      '18 battery.capacity',
      '32 log.columns.current.unit',
      '45 install.removed_at',
      '48 photos[0]',
    ]);
  });

  it('a fifth channel is one too many', () => {
    const channels = [1, 2, 3, 4].map((n) => `    - {name: extra${n}}\n`).join('');
    expect(problemsOf(edited('limits: ', `${channels}limits: `))).toMatchObject([
      { line: 35, column: 5, path: 'log.channels', message: 'Found a list of 5. At most 4 are taken.' },
    ]);
  });

  it('elapsed time needs a start', () => {
    const manifest = edited('  start: 2026-03-03T17:40:00', '  # none').replace('format: iso', 'format: elapsed-s');
    expect(problemsOf(manifest)).toMatchObject([
      { line: 23, path: 'log.start', message: expect.stringContaining('Elapsed time needs') },
    ]);
  });
});

describe('what is no manifest', () => {
  it.each([
    ['nothing', '', 'Found nothing. Expected: the keys standstill, session'],
    ['a list', '- a\n- b', 'Found a list of 2.'],
    ['a word', 'hello', 'Found "hello".'],
    ['two documents', `${EXAMPLE}---\na: 1\n`, 'A second document begins here'],
    ['a huge file', `# ${'x'.repeat(300_000)}\n${EXAMPLE}`, 'Expected: up to 256 KiB.'],
    ['deep brackets', '['.repeat(100_000), 'session.yaml'],
    ['deep braces', '{a: '.repeat(50_000), 'session.yaml'],
    ['deep dashes', '- '.repeat(100_000), 'Nested too deep'],
    ['deep dashes behind a mark', `--- ${'- '.repeat(100_000)}`, 'Nested too deep'],
    ['deep questions', '? '.repeat(100_000), 'Nested too deep'],
    ['steps', Array.from({ length: 600 }, (_, n) => `${' '.repeat(n)}a:`).join('\n'), 'Nested too deep'],
    ['somewhat deep', '[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]', 'Nested too deep'],
    ['an alias', 'a: &a [1]\nb: *a', 'Aliases (*name) are not supported'],
    [
      'an alias bomb',
      `a: &a [x]\n${'bcdefghij'
        .split('')
        .map((k, n) => `${k}: &${k} [${`*${'abcdefghij'[n]},`.repeat(10)}]`)
        .join('\n')}`,
      'Aliases',
    ],
    ['a group as a key', '{a: 1}: 2', 'A key must be plain text.'],
    ['a prototype', '__proto__: {a: 1}\nconstructor: 2', 'Unknown key "__proto__".'],
    ['20,000 mistakes', 'a: 1\n'.repeat(20_000), 'And 19979 more like these.'],
  ])('%s', (_, manifest, message) => {
    const problems = problemsOf(manifest);
    expect(problems.map((problem) => problem.message).join('\n')).toContain(message === 'session.yaml' ? '' : message);
    expect(problems[0].file).toBe('session.yaml');
  });

  it('another encoding', () => {
    const latin = Buffer.from(EXAMPLE.replace(/—/g, '-'), 'latin1');
    expect(problemsOf(latin)).toEqual([
      { file: 'session.yaml', line: 33, message: 'The file is not UTF-8 text. Save it as UTF-8 in your editor.' },
    ]);
    expect(problemsOf(Buffer.from(`\ufeff${EXAMPLE}`, 'utf16le'))[0].message).toContain('not UTF-8');
  });

  it('no file, no folder', () => {
    const files = exampleFiles();
    expect(() => readSession(`${FOLDER}/log`, files)).toThrow(
      'There is no file "session.yaml" in the session folder. "standstill init" writes one.',
    );
    expect(() => readSession(`${FOLDER}/none`, files)).toThrow('There is no folder "none".');
  });

  it('quotes nothing that could move a terminal', () => {
    const control = String.fromCharCode(27);
    const messages = problemsOf(`"${control}[2J\\x9b": 1\nsession: {id: "\\e]0;x\\a\\u202e"}`).map(
      (problem) => problem.message + problem.path,
    );
    expect(messages.join('')).not.toMatch(/[\p{Cc}\p{Cf}]/u);
    expect(messages.length).toBeGreaterThan(1);
  });
});
