/** The words of `standstill init`: a flag for each thing that it would ask. */
import { type Command, Option } from 'commander';

export interface InitFlags {
  from?: string;
  sampleOnly: boolean;
  yes: boolean;
  id?: string;
  pdf: boolean;
  page: 'a4' | 'letter';
  browser?: string;
  [field: string]: unknown;
}

/** Flag and section of the manifest; kept apart from `DRAFT_FIELDS` so that help does not load the schema. A test holds them together. */
const FIELD_FLAGS: readonly (readonly [
  flag: string,
  section: 'session' | 'vehicle' | 'battery' | 'current',
  description: string,
])[] = [
  ['title', 'session', 'headline of the report'],
  ['purpose', 'session', 'baseline, complaint or after-repair'],
  ['concern', 'session', 'what the customer says'],
  ['repair-order', 'session', 'number of the repair order'],
  ['technician', 'session', 'who fits the logger'],
  ['timezone', 'session', 'IANA name, such as Europe/Dublin'],
  ['language', 'session', 'language of report and fitting sheet, such as en or de'],
  ['description', 'vehicle', 'such as "2017 panel van, 2.0 diesel"'],
  ['registration', 'vehicle', 'left out of a redacted report'],
  ['vin', 'vehicle', 'left out of a redacted report'],
  ['odometer', 'vehicle', 'such as "84210 km"'],
  ['powertrain', 'vehicle', 'combustion, hybrid or electric'],
  ['system-voltage', 'vehicle', '"6 V", "12 V" or "24 V"'],
  ['chemistry', 'battery', 'flooded, efb, agm, gel or lfp'],
  ['capacity', 'battery', '20-hour rating, such as "70 Ah"'],
  ['cold-cranking', 'battery', 'such as "680 A"'],
  ['cranking-standard', 'battery', 'EN, SAE, IEC or DIN'],
  ['reserve-capacity', 'battery', 'such as "120 min"'],
  ['fitted', 'battery', 'month, such as 2022-05'],
  ['positive', 'current', 'what a positive current in the log means: charging or discharging'],
];

export function withInitOptions(command: Command): Command {
  command
    .option(
      '--from <sample>',
      "a log of this logger: columns are proposed from it, and it is copied to the folder's log/",
    )
    .option('--sample-only', 'the sample is of another session: do not copy it', false)
    .option('--yes', 'ask nothing; what is not given stays a marked blank', false)
    .option('--id <id>', "the folder's name in the archive")
    .option('--no-pdf', 'write the fitting sheet as HTML only')
    .addOption(new Option('--page <size>', 'paper of the fitting sheet').choices(['a4', 'letter']).default('a4'))
    .option('--browser <path>', 'browser that prints the PDF')
    .optionsGroup('What would be asked:');
  for (const [flag, , description] of FIELD_FLAGS) command.option(`--${flag} <text>`, description);
  return command;
}

/** The answers among the flags, by the manifest's path: `vehicle.system_voltage`. */
export function givenFields(
  flags: InitFlags,
): Record<`${'session' | 'vehicle' | 'battery' | 'current'}.${string}`, string> {
  const given: Record<string, string> = {};
  for (const [flag, section] of FIELD_FLAGS) {
    const value = flags[flag.replace(/-(.)/g, (_, letter: string) => letter.toUpperCase())];
    if (typeof value === 'string') given[`${section}.${flag.replaceAll('-', '_')}`] = value;
  }
  return given;
}
