/** What a person types for a field, in the manifest's own words: `70` for `70 Ah`, `Diesel` for `combustion`, `Berlin` for `Europe/Berlin`. */
import { type DraftField, type DraftPath, fieldFault, pathOf } from './draft-fields.ts';

const UNITS: Readonly<Partial<Record<DraftPath, string>>> = {
  'vehicle.odometer': 'km',
  'vehicle.system_voltage': 'V',
  'battery.capacity': 'Ah',
  'battery.cold_cranking': 'A',
  'battery.reserve_capacity': 'min',
};

/** In lower case, English and German; the first word that an answer begins with or equals. */
const WORDS: Readonly<Partial<Record<DraftPath, Readonly<Record<string, readonly string[]>>>>> = {
  'session.purpose': {
    complaint: [
      'complaint',
      'fault',
      'customer complaint',
      'beanstandung',
      'reklamation',
      'kundenbeanstandung',
      'klage',
    ],
    baseline: ['baseline', 'reference', 'comparison', 'healthy', 'vergleich', 'referenz', 'vergleichsmessung'],
    'after-repair': [
      'after repair',
      'after-repair',
      'repaired',
      'recheck',
      'nach reparatur',
      'nach der reparatur',
      'nachprüfung',
    ],
  },
  'vehicle.powertrain': {
    hybrid: [
      'hybrid',
      'plug-in',
      'plugin',
      'phev',
      'hev',
      'mhev',
      'mild hybrid',
      'plug-in-hybrid',
      'plug-in hybrid',
      'vollhybrid',
    ],
    electric: ['electric', 'bev', 'ev', 'elektro', 'elektrisch', 'e-auto', 'battery electric', 'batterieelektrisch'],
    combustion: [
      'combustion',
      'ice',
      'diesel',
      'petrol',
      'gasoline',
      'gas',
      'lpg',
      'cng',
      'benzin',
      'benziner',
      'otto',
      'verbrenner',
      'verbrennungsmotor',
    ],
  },
  'battery.chemistry': {
    flooded: [
      'flooded',
      'wet',
      'lead',
      'lead acid',
      'lead-acid',
      'standard',
      'nass',
      'nassbatterie',
      'blei',
      'blei-säure',
      'bleisäure',
    ],
    efb: ['efb', 'afb', 'enhanced flooded'],
    agm: ['agm', 'vlies', 'vrla'],
    gel: ['gel'],
    lfp: ['lfp', 'lifepo4', 'lithium', 'lithium iron phosphate', 'lithium-eisenphosphat'],
  },
  'current.positive': {
    charging: ['charging', 'charge', 'in', 'into', 'into the battery', 'laden', 'ladung', 'hinein'],
    discharging: ['discharging', 'discharge', 'out', 'out of the battery', 'draw', 'entladen', 'entladung', 'heraus'],
  },
};

/** The answer as the manifest takes it; as it was typed where nothing makes it acceptable. */
export function understoodAnswer(field: DraftField, typed: string): string {
  if (fieldFault(field, typed) === undefined) return typed;
  const path = pathOf(field);
  const unit = UNITS[path];
  const tries = [
    unit !== undefined && /\d$/.test(typed) ? `${typed} ${unit}` : undefined,
    wordFor(path, typed),
    path === 'session.timezone' ? zoneFor(typed) : undefined,
    typed.toLowerCase(),
    typed.toUpperCase(),
  ];
  return tries.find((text) => text !== undefined && fieldFault(field, text) === undefined) ?? typed;
}

function wordFor(path: DraftPath, typed: string): string | undefined {
  const said = typed.toLowerCase().replace(/\s+/g, ' ').trim();
  return Object.entries(WORDS[path] ?? {}).find(([, words]) => words.includes(said))?.[0];
}

/** Of a city that no second zone is named after. */
function zoneFor(typed: string): string | undefined {
  const plain = (text: string) => text.toLowerCase().replace(/[\s_-]+/g, '_');
  const found = Intl.supportedValuesOf('timeZone').filter(
    (zone) => plain(zone.slice(zone.lastIndexOf('/') + 1)) === plain(typed),
  );
  return found.length === 1 ? found[0] : undefined;
}
