/** What people say for the manifest's own words, in lower case, English and German. */

export type SaidAs = Readonly<Record<string, readonly string[]>>;

export const SAID_AS = {
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
} as const satisfies Readonly<Record<string, SaidAs>>;

/** Units that are written out. */
export const UNITS_SAID_AS = {
  voltage: { V: ['volt', 'volts'], mV: ['millivolt', 'millivolts'] },
  current: { A: ['amp', 'amps', 'ampere', 'amperes'], mA: ['milliamp', 'milliamps', 'milliampere', 'milliamperes'] },
  temperature: { '°C': ['c', 'celsius', 'degc', 'deg c', 'grad'], '°F': ['f', 'fahrenheit'], K: ['kelvin'] },
} as const satisfies Readonly<Record<string, SaidAs>>;

/** The word that was meant, or undefined. */
export function meant(said: string, words: SaidAs | undefined): string | undefined {
  const plain = said.toLowerCase().replace(/\s+/g, ' ').trim();
  return Object.entries(words ?? {}).find(([, others]) => others.includes(plain))?.[0];
}
