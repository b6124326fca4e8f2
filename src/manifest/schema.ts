/**
 * Every key of `session.yaml`, once: what it takes, what is plausible, and what an editor says about it. The manifest is parsed section
 * by section, so that a fault in one does not hide those of another.
 */
import { z } from 'zod';
import { shown } from '../base/shown.ts';
import { CHEMISTRIES } from '../battery/chemistry.ts';
import { choice, flag, group, list, moment, quantity, text } from './fields.ts';
import { pathFault } from './paths.ts';
import { type Dimension, quantityFault } from './quantity.ts';
import { SAID_AS } from './said-as.ts';
import { logSection } from './schema-log.ts';
import { idFault } from './session-id.ts';

/** Where a limit's figure is from when the manifest does not say. */
export const DEFAULT_LIMIT_SOURCE = 'set in session.yaml';

/** The form alone: in which languages there are words is for whoever writes the report to say. */
function languageFault(language: string): string | undefined {
  return /^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$/.test(language)
    ? undefined
    : `Found ${shown(language)}. Expected: the short name of a language, such as en or de.`;
}

function fittedFault(fitted: string): string | undefined {
  const [, year, month, day = '1'] = /^(\d{4})-(\d{2})(?:-(\d{2}))?$/.exec(fitted) ?? [];
  const date = new Date(Date.UTC(Number(year), Number(month) - 1, Number(day)));
  const real = date.getUTCMonth() === Number(month) - 1 && date.getUTCDate() === Number(day);
  if (real && Number(year) >= 1980 && Number(year) <= 2100) return undefined;
  return `Found ${shown(fitted)}. Expected: a month or a day, such as 2022-05 or 2022-05-17.`;
}

const systemVoltage = quantity(
  'voltage',
  '6 V',
  '24 V',
  'Nominal voltage of the low-voltage system: 6 V, 12 V or 24 V',
).refine((volts) => [6, 12, 24].includes(volts), {
  error: ({ input }) => `Found ${input} V. Expected: the nominal voltage, 6 V, 12 V or 24 V.`,
});

const limitSource = text('Where the figure is from').optional();

/** A limit on one side: `{max: 50 mA, source: …}`, or the quantity alone. */
function limit<Side extends 'min' | 'max'>(
  side: Side,
  dimension: Dimension,
  from: string,
  to: string,
  description: string,
) {
  const value = quantity(dimension, from, to, description);
  const shape = { [side]: value, source: limitSource } as Record<Side, typeof value> & { source: typeof limitSource };
  return z
    .union([value, group(shape, description)], {
      error: ({ input }) => `${quantityFault(input, dimension)} Or a group with ${side} and source.`,
    })
    .transform((given) => {
      if (typeof given === 'number') return { value: given, source: DEFAULT_LIMIT_SOURCE };
      const { [side]: number, source } = given as Record<Side, number> & { source?: string };
      return { value: number, source: source ?? DEFAULT_LIMIT_SOURCE };
    })
    .optional();
}

function photoFault(path: string): string | undefined {
  const fault = pathFault(path, false);
  if (fault !== undefined || /\.(png|jpe?g|webp)$/i.test(path)) return fault;
  if (/\.(heic|heif|avif|dng|tiff?)$/i.test(path))
    return `Found ${shown(path)}, which no page can show. Save it as JPEG, and name that.`;
  return `Found ${shown(path)}. Expected: a photo as .png, .jpg, .jpeg or .webp.`;
}

const photoPath = text('Path of a photo: png, jpg, jpeg or webp', 500, photoFault);
const healthyId = text('Id of a healthy session of the same model in the archive', 64, idFault);

/** An id, or a list of them. */
const healthyIds = z
  .union([healthyId, list(healthyId, 200, 'Ids of healthy sessions').min(1)], {
    error: ({ input }) =>
      (typeof input === 'string' ? idFault(input) : undefined) ??
      `Found ${shown(input)}. Expected: the id of a healthy session, or several as [ID, ID].`,
  })
  .transform((ids) => (typeof ids === 'string' ? [ids] : ids))
  .describe('Id of a healthy session of the same model in the archive, or several: their values become limits');

/** A path, or a group that says when the photo was taken and what it shows. */
const photo = z
  .union(
    [
      photoPath,
      group(
        {
          file: photoPath,
          at: moment("When it was taken; without it, what the photo's file says").optional(),
          text: text('What it shows', 500).optional(),
        },
        'A photo',
      ),
    ],
    {
      error: ({ input }) => `Found ${shown(input)}. Expected: the path of a photo, or a group with file, at and text.`,
    },
  )
  .describe('A photo');

/** Work as the shop words it: a line, or a group with what it takes and costs. */
const offer = z
  .union(
    [
      text('What is offered', 300),
      group(
        {
          work: text('What is offered', 300),
          effort: text('What it takes, such as 1.5 h', 60).optional(),
          price: text('What it costs, such as 145 € with VAT', 60).optional(),
        },
        'Offered work',
      ),
    ],
    {
      error: ({ input }) =>
        `Found ${shown(input)}. Expected: what is offered as text, or a group with work, effort and price.`,
    },
  )
  .transform((given) => (typeof given === 'string' ? { work: given } : given))
  .describe('Offered work');

const chargingVoltage = quantity('voltage', '5 V', '35 V', 'Charging voltage');

export const SECTIONS = {
  standstill: z
    .literal(1, {
      error: ({ input }) =>
        input === undefined
          ? 'Missing. Expected: 1, the version of this file.'
          : `Found ${shown(input)}. Expected: 1, the only version of this file so far.`,
    })
    .describe('Version of this file: 1'),
  session: group(
    {
      id: text('Letters, digits, hyphen; the folder name in the archive', 64, idFault),
      title: text('Headline of the report'),
      purpose: choice(
        ['baseline', 'complaint', 'after-repair'],
        'Why the logger was fitted',
        SAID_AS['session.purpose'],
      ),
      concern: text('What the customer says', 1000).optional(),
      repair_order: text('Number of the repair order', 60).optional(),
      technician: text('Who fitted the logger', 100).optional(),
      timezone: text(
        'IANA name such as Europe/Dublin: times without an offset are local to it',
        60,
        undefined,
        'the IANA name of the zone that the logger’s clock is set to, such as Europe/Dublin',
      ),
      language: text("Language of the report, such as en or de; without it the shop's", 20, languageFault).optional(),
    },
    'The session',
  ),
  vehicle: group(
    {
      description: text('The vehicle in a few words'),
      model: text(
        'Model, as the shop calls it: healthy vehicles of one model show what is normal for it',
        80,
      ).optional(),
      registration: text('Left out when the report is redacted', 40).optional(),
      vin: text('Left out when the report is redacted', 40).optional(),
      odometer: quantity('distance', '0 km', '5000000 km', 'Odometer reading').optional(),
      powertrain: choice(
        ['combustion', 'hybrid', 'electric'],
        'What drives the vehicle',
        SAID_AS['vehicle.powertrain'],
      ),
      system_voltage: systemVoltage,
    },
    'The vehicle',
  ),
  battery: group(
    {
      chemistry: choice(CHEMISTRIES, 'Kind of battery', SAID_AS['battery.chemistry']),
      capacity: quantity('charge', '1 Ah', '500 Ah', '20-hour rating').optional(),
      cold_cranking: quantity('current', '10 A', '3000 A', 'Cold cranking current on the label').optional(),
      cranking_standard: choice(['EN', 'SAE', 'IEC', 'DIN'], 'Standard of the cold cranking current').optional(),
      reserve_capacity: quantity('duration', '5 min', '1000 min', 'Reserve capacity on the label').optional(),
      fitted: text('Month or day in which the battery was fitted, such as 2022-05', 10, fittedFault).optional(),
    },
    'The battery',
  ),
  log: logSection,
  limits: group(
    {
      from: healthyIds.optional(),
      parked_draw: limit('max', 'current', '1 mA', '10 A', 'Largest draw once asleep'),
      sleep_within: limit('max', 'duration', '1 s', '7 d', 'Longest time from key-off until asleep'),
      stand_time: limit('min', 'duration', '1 h', '730 d', 'Shortest time that the vehicle must stand and still start'),
      resting_charge: limit('min', 'fraction', '1 %', '100 %', 'Lowest state of charge at rest'),
      cranking_voltage: limit('min', 'voltage', '1 V', '30 V', 'Lowest voltage while cranking, after the inrush'),
      charging_voltage: group(
        { min: chargingVoltage.optional(), max: chargingVoltage.optional(), source: limitSource },
        'Charging voltage',
      ).optional(),
    },
    'Limits in place of the defaults, which "standstill checks" lists',
  ).optional(),
  install: group(
    {
      fitted_at: moment('When the logger was fitted').optional(),
      removed_at: moment('When the logger was removed').optional(),
      memory_saver: group(
        {
          used: flag('Was a memory saver connected?'),
          voltage_before: quantity('voltage', '0 V', '60 V', 'Battery voltage before').optional(),
          voltage_during: quantity('voltage', '0 V', '60 V', 'Voltage with the memory saver connected').optional(),
        },
        'Memory saver',
      ).optional(),
      clock_checked: flag("Was the logger's clock checked?").optional(),
      amp_hours_cleared: flag('Was the charge counter set to zero?').optional(),
      draw_at_start: quantity(
        'current',
        '0 A',
        '100 A',
        'Draw that the logger showed at the end of fitting',
      ).optional(),
      current_sensor: group({ place: text('Such as: negative cable') }, 'Current sensor').optional(),
    },
    'What was seen while fitting',
  ).optional(),
  notes: list(
    group({ at: moment('When'), text: text('What happened', 2000) }, 'A note'),
    1000,
    'What happened while the logger was fitted',
  ).optional(),
  photos: list(photo, 50, 'Photos, relative to the session folder').optional(),
  assessment: group(
    {
      text: text('What the workshop makes of it', 2000).optional(),
      done: list(text('What was done', 300), 20, 'What was done').optional(),
      offers: list(offer, 12, 'Work that is offered, as the shop words it').optional(),
    },
    "The workshop's own assessment, on the customer's page; left out when the report is redacted",
  ).optional(),
} as const;

export type Sections = { readonly [key in keyof typeof SECTIONS]: z.output<(typeof SECTIONS)[key]> };

/** JSON Schema (draft 7, which editors know best) of `session.yaml`. */
export function sessionJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(group(SECTIONS, 'A Standstill session: one fitting of a logger to one vehicle'), {
    io: 'input',
    target: 'draft-7',
  });
  return { ...schema, title: 'session.yaml' };
}
