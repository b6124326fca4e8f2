/** `session`: the manifest as understood, in its own key names, SI in the key. */
import { z } from 'zod';
import { CHEMISTRIES } from '../../battery/chemistry.ts';
import {
  amountOrNull,
  flag,
  moment,
  momentOrNull,
  number,
  numberOrNull,
  sessionId,
  since,
  text,
  textOrNull,
  texts,
  word,
  zoneName,
} from './fields.ts';

const Vehicle = z
  .object({
    description: text('The vehicle in a few words'),
    model: since('0.2.0', textOrNull('Model, as the shop calls it; null where none was given'), null),
    registration: textOrNull('Registration; null where none was given, and in a redacted report'),
    vin: since('0.1.0', textOrNull('Vehicle identification number; null like the registration'), null),
    odometer_km: since('0.1.0', amountOrNull('Odometer reading when the logger was fitted, km'), null),
    powertrain: word(['combustion', 'hybrid', 'electric'], 'What drives the vehicle'),
    system_voltage_v: z.literal([6, 12, 24]).describe('Nominal voltage of the low-voltage system, V'),
  })
  .describe('The vehicle');

const Battery = z
  .object({
    chemistry: word(CHEMISTRIES, 'Kind of battery; lfp: lithium iron phosphate, nmc: lithium nickel manganese cobalt'),
    capacity_ah: since('0.1.0', amountOrNull('20-hour rating, Ah'), null),
    capacity_from: since(
      '0.2.0',
      z
        .enum(['reserve capacity'])
        .nullable()
        .describe('What capacity_ah was worked out from; null where the label states it'),
      null,
    ),
    cold_cranking_a: since('0.1.0', amountOrNull('Cold cranking current on the label, A'), null),
    cranking_standard: since(
      '0.1.0',
      z.enum(['EN', 'SAE', 'IEC', 'DIN']).nullable().describe('Standard of the cold cranking current'),
      null,
    ),
    reserve_capacity_min: since('0.1.0', amountOrNull('Reserve capacity on the label, min'), null),
    fitted: since('0.1.0', textOrNull('Month or day in which the battery was fitted: YYYY-MM or YYYY-MM-DD'), null),
  })
  .describe('The battery, as its label and the manifest state it');

const Install = z
  .object({
    fitted_at: momentOrNull('When the logger was fitted'),
    removed_at: momentOrNull('When the logger was removed'),
    memory_saver: z
      .object({
        used: flag('Whether a memory saver was connected while fitting'),
        voltage_before_v: numberOrNull('Battery voltage before, V'),
        voltage_during_v: numberOrNull('Voltage with the memory saver connected, V'),
      })
      .nullable()
      .describe('The memory saver; null where nothing is noted of one'),
    clock_checked: z.boolean().nullable().describe("Whether the logger's clock was checked; null where not noted"),
    amp_hours_cleared: z
      .boolean()
      .nullable()
      .describe("Whether the logger's own charge counter was set to zero; null where not noted"),
    draw_at_start_a: since(
      '0.2.0',
      numberOrNull("Draw on the logger's display when the vehicle was left, A, positive out of the battery"),
      null,
    ),
    current_sensor_place: textOrNull('Where the current sensor sat'),
  })
  .describe('What the technician saw while fitting');

const Column = z
  .object({
    role: text('time, voltage, current, temperature, or the label of a channel'),
    name: text('Name in the header row, or number of the column'),
    unit: text('Unit in which the log is written; empty for the time'),
    accuracy: textOrNull('Accuracy as the maker states it, for people; null where none was stated'),
    accuracy_stated: since(
      '0.2.0',
      z
        .object({
          relative: number('Share of the reading, 1 for the whole'),
          absolute: number('Fixed part, in the unit of this group'),
          unit: text('V, A or °C, whatever unit the log is written in'),
        })
        .nullable()
        .describe(
          'The same accuracy in numbers: a half-width of relative × |reading| + absolute; null where none was stated',
        ),
      null,
    ),
  })
  .describe('A column of the log that was read');

const Limit = z
  .object({
    key: text(
      'parkedDraw, sleepWithin, standTime, restingCharge, crankingVoltage, chargingVoltageMin or chargingVoltageMax',
    ),
    value: number('In the unit beside it'),
    unit: text('A, s, V, or 1 for a share of 0 to 1'),
    source: text('Where the figure is from'),
  })
  .describe('A limit that stands in place of a default');

const LimitsFrom = z
  .object({
    session: textOrNull('Id of the healthy session, the first of several; null in a redacted report'),
    sessions: since('0.2.0', texts('Ids of all of them; none in a redacted report'), []),
    left: since(
      '0.2.0',
      z
        .array(z.object({ key: text('Key of the limit'), reason: text('Why the healthy session gives none') }))
        .describe('Limits that it could not give'),
      [],
    ),
  })
  .nullable()
  .describe('The healthy session whose values became limits; null where there is none');

const Photo = z
  .object({
    file: text('Path in the session folder'),
    at: momentOrNull('When it was taken'),
    time_from: z
      .enum(['manifest', 'camera'])
      .nullable()
      .describe('Whose clock says so: the manifest, or the camera, whose time is taken as local'),
    text: textOrNull('What it shows'),
  })
  .describe('A photo');

const Assessment = z
  .object({
    text: textOrNull('What the workshop makes of it'),
    done: texts('What was done'),
    offers: z
      .array(
        z.object({
          work: text('What is offered'),
          effort: textOrNull('What it takes, as the shop words it'),
          price: textOrNull('What it costs, as the shop words it'),
        }),
      )
      .describe('Work that is offered'),
  })
  .nullable()
  .describe("The workshop's own assessment, in its words; null where it wrote none, and in a redacted report");

export const SessionPart = z
  .object({
    id: sessionId("Names the session, and its folder in the archive: letters, digits, hyphens; the manifest's rule"),
    title: text('Headline of the report'),
    purpose: word(['baseline', 'complaint', 'after-repair'], 'Why the logger was fitted'),
    concern: since('0.1.0', textOrNull('What the customer said'), null),
    repair_order: textOrNull('Number of the repair order'),
    technician: since('0.1.0', textOrNull('Who fitted the logger'), null),
    timezone: zoneName('IANA name of the zone in which pages write times; times in this file are UTC all the same'),
    language: since(
      '0.2.0',
      textOrNull('Language of the report, as chosen; null where older versions said none'),
      null,
    ),
    vehicle: Vehicle,
    battery: Battery,
    limits: since('0.1.0', z.array(Limit).describe("The session's own limits"), []),
    limits_from: since('0.2.0', LimitsFrom, null),
    install: Install,
    columns: since('0.1.0', z.array(Column).describe('The columns of the log that were read'), []),
    notes: z
      .array(z.object({ at: moment('When'), text: text('What happened') }).describe('A note'))
      .describe('What people noted while the logger was fitted'),
    photos: texts('Paths of the photos in the session folder'),
    photos_taken: since(
      '0.2.0',
      z.array(Photo).describe('The same photos: when each was taken, and what it shows'),
      [],
    ),
    assessment: since('0.2.0', Assessment, null),
    redacted: since('0.2.0', flag('True where whose vehicle it is, and what people wrote of it, was left out'), false),
  })
  .describe('The manifest as understood. What was not given is null');
