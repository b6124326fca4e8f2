// What page one must keep to.

import { UNFIT } from './battery.mjs';
import { failed, faults, is, isOfLog, NOT_ASKED, rule, told } from './reading.mjs';

/** What a complaint is told where nothing was found counts as one too: nothing may stand above a fault. */
export const ALL_CLEAR =
  /\bno fault\b|nothing wrong that explains|shows no trouble|zeigt diese Messung kein Problem|keinen Schaden gefunden, der|keinen Fehler|kein Fehler|nothing is wrong|everything (is )?in order|alles in Ordnung/i;
export const isAllClear = (r) => ALL_CLEAR.test(r.summary.answer);
export const said = (r) => Object.values(r.summary).flat().filter(Boolean);
export const advice = (r) => [r.summary.suggest, r.summary.until_then].flat();
/** Figures of a text, with signs and separators of any language taken alike. */
export const figures = (text) => (text.match(/\d+(?:[.,]\d+)*/g) ?? []).map((one) => one.replace(',', '.'));

export const PAGE_ONE = [
  rule(
    'no all-clear above a fault',
    'whatever the fault is of',
    (r) =>
      isAllClear(r) &&
      r.findings.some(({ status }) => status === 'fault') &&
      `“${r.summary.answer}” above ${faults(r)}`,
  ),
  rule('no all-clear above something to watch', 'what is worth a look is not nothing', (r) => {
    const watched = r.findings.filter((f) => f.status === 'watch' && !isOfLog(f));
    return isAllClear(r) && watched.length > 0 && `“${r.summary.answer}” above ${watched.map(told).join(', ')}`;
  }),
  rule('no bare all-clear above a complaint', 'it was there, and what the log shows may miss it', (r) => {
    const { purpose, concern } = r.session;
    const lines = [r.summary.answer, ...r.summary.suggest, ...r.summary.until_then, ...r.summary.means].filter((line) =>
      /no fault|keinen Fehler|[Nn]othing (needs|must)|muss nichts|as you always do|wie immer|works now|läuft jetzt/.test(
        line,
      ),
    );
    return purpose !== 'baseline' && concern && lines.length > 0 && lines.join(' ');
  }),
  rule(
    'of a battery that was changed the trouble may have been',
    '"nothing explains it", and the old one showed 19 mΩ',
    (r) => {
      const isSaid = /nothing wrong that explains|keinen Schaden gefunden, der/.test(r.summary.answer);
      return is(r, ['supply-lost', 'watch:replaced']) && isSaid && r.summary.answer;
    },
  ),
  rule(
    'no sign is put right by a sensor that misses the starts',
    '"its answers hold", and none of six starts in the current',
    (r) => {
      const path = is(r, ['current-path', 'fault:']);
      const lines = [...r.summary.found, ...r.summary.means].filter((line) =>
        /its answers hold|gelten seine Antworten|holds as if|gilt so, als/.test(line),
      );
      return path && lines.length > 0 && `${told(path)}: ${lines.join(' ')}`;
    },
  ),
  rule('an all-clear rests on what was seen', 'draw, sleep and wakes are what it speaks of', (r) => {
    const open = ['parked-draw', 'sleep-time', 'wake-ups'].filter((check) => !is(r, [check, 'clear']));
    return isAllClear(r) && open.length > 0 && `“${r.summary.answer}” with ${open.join(', ')} not clear`;
  }),
  rule(
    'no all-clear above starts that failed',
    'a vehicle that does not start is not in order',
    (r) => isAllClear(r) && failed(r).length > 0 && `${failed(r).length} failed starts`,
  ),
  rule('a fault of the vehicle is named first', 'the customer reads no further', (r) => {
    const heads = r.findings.filter((f) => f.status === 'fault' && !isOfLog(f) && f.follows === null);
    // Beside what may hurt somebody the others are named in a few words of their own.
    const isDanger = is(r, ['freeze-risk', 'fault', 'watch:in-doubt']) && r.summary.found.length > 1;
    return (
      heads.length > 0 &&
      !isDanger &&
      !r.summary.found.some((line) => heads.some((f) => f.plain === line)) &&
      heads.map(told).join(', ')
    );
  }),
  rule('every figure of page one stands in the technician’s part', 'nobody can check it elsewhere', (r) => {
    const known = new Set(figures(r.findings.flatMap((f) => [f.title, f.detail, f.reason ?? '']).join(' ')));
    const lost = r.summary.found.flatMap(figures).filter((one) => !known.has(one));
    return lost.length > 0 && lost.join(', ');
  }),
  rule('nobody sleeps on a current into the battery', 'a figure that cannot be', (r) => {
    const odd = [...said(r), ...r.findings.flatMap((f) => [f.title, f.plain])].filter((text) =>
      /(uses|braucht[^.]*) −\d|(draws|instead of|statt|Ruhestrom) −\d/.test(text),
    );
    return odd.length > 0 && odd[0];
  }),
  rule('no advice of days where one night is too much', 'nobody reads on to the hours', (r) => {
    const stand = is(r, ['stand-time', 'fault', 'undecided:sometimes-awake']);
    const lowS = stand?.measured ? stand.measured.value - stand.measured.uncertainty : Number.POSITIVE_INFINITY;
    const lines = advice(r).filter((line) => /stand for days|tagelang/.test(line));
    return lowS < 86_400 && lines.length > 0 && `${lines.join(' ')} with ${Math.round(lowS)} s`;
  }),
  rule('what was left open is named beside an all-clear', 'the customer takes silence for "in order"', (r) => {
    const open = ['resting-charge', 'crank-voltage', 'charging-low'].filter(
      (check) => is(r, [check, 'undecided']) && !NOT_ASKED.includes(is(r, [check, 'undecided']).reason_key),
    );
    return isAllClear(r) && open.length > 0 && r.summary.found.length < 2 && open.join(', ');
  }),
  rule('a sign that was put right takes nothing from the answers', '"its answers hold", and "may be shifted"', (r) => {
    const others = r.findings.filter((f) => isOfLog(f) && f.status === 'fault' && f.check !== 'current-direction');
    const lines = r.summary.means.filter((line) => /incomplete or shifted|unvollständig|verschoben/.test(line));
    return is(r, ['current-direction', 'fault']) && others.length === 0 && lines.length > 0 && lines.join(' ');
  }),
  rule('no all-clear over a charge that nothing explains', '36 Ah went, and "no fault"', (r) => {
    const lost = r.periods.filter(
      ({ kind, seconds, charge_out_ah }) => kind === 'unknown' && seconds > 900 && (charge_out_ah * 3600) / seconds > 6,
    );
    const ah = lost.reduce((sum, { charge_out_ah }) => sum + charge_out_ah, 0);
    return isAllClear(r) && ah > 0.1 * (r.session.battery.capacity_ah ?? 60) && `${ah} Ah in ${lost.length} stretches`;
  }),
  rule('the days of the advice are those of the finding', '"6 to 15 days", and "not for days"', (r) => {
    const stand = is(r, ['stand-time', 'fault', 'undecided:limit-within-uncertainty']);
    const lowS = stand?.measured ? stand.measured.value - stand.measured.uncertainty : 0;
    const lines = r.summary.until_then.filter((line) =>
      /stand for (days|longer than)|tagelang|nicht länger als/.test(line),
    );
    const days = lines.flatMap(figures).map(Number);
    const isOdd = days.length > 0 ? days.some((n) => n * 86_400 > lowS + 43_200) : lowS >= 2 * 86_400;
    return stand?.measured && lines.length > 0 && isOdd && `${lines.join(' ')} with ${Math.round(lowS)} s`;
  }),
  rule('nobody drives on as before where charging failed', 'it can stand on the road tomorrow', (r) => {
    const isFailing = is(r, ['charging-low', 'fault', 'watch:some-drives', 'watch:at-times', 'watch:unexplained']);
    const lines = r.summary.until_then.filter((line) => /as you do now|so wie jetzt|wie bisher/.test(line));
    return isFailing && lines.length > 0 && lines.join(' ');
  }),
  rule('no longer drive for a battery that does not start', 'nobody can drive it', (r) => {
    const cannot =
      is(r, UNFIT) || (failed(r).length > 0 && !r.drives.some(({ start }) => start >= failed(r).at(-1).start));
    const lines = advice(r).filter((line) =>
      /longer drive|[Dd]rive it often|längere Fahrt|[Ff]ahren Sie öfter/.test(line),
    );
    return cannot && lines.length > 0 && lines.join(' ');
  }),
  rule('no charging advice for a battery that may be frozen', 'a frozen one can burst (US Army OD 1002)', (r) => {
    const frozen = is(r, ['freeze-risk', 'fault', 'watch:in-doubt']);
    const lines = [...advice(r), ...r.summary.found, ...r.summary.not_yet].filter((line) =>
      /have the battery charged|must be charged|Charge and test|muss geladen werden|Erst laden|Batterie laden lassen|charge the battery (slowly|fully)/i.test(
        line,
      ),
    );
    return frozen && lines.length > 0 && lines.join(' ');
  }),
  rule('nobody is told to charge a battery with a dead cell', 'it gets hot, and charging does not cure it', (r) => {
    const lines = [...advice(r), ...r.summary.found].filter((line) =>
      /[Hh]ave it charged|should be charged fully|[Hh]ave the battery charged|Lassen Sie sie laden|sollte (erst )?voll geladen|Lassen Sie die Batterie/.test(
        line,
      ),
    );
    return is(r, ['resting-charge', 'fault:cell']) && lines.length > 0 && lines.join(' ');
  }),
  rule('nothing is said twice', 'a reader looks for the difference', (r) => {
    const lines = [r.summary.found, r.summary.means, r.summary.suggest, r.summary.until_then, r.summary.not_yet].flat();
    const twice = lines.filter((line, k) => lines.indexOf(line) !== k);
    return twice.length > 0 && twice.join(' ');
  }),
  rule('titles are as a person says them', 'the uncertainty stays in the detail; 0 days are none', (r) => {
    const odd = r.findings
      .map(({ title }) => title)
      .filter((title) => /±|NaN|undefined|\b0 (days|Tage)|\b1 (times|Mal) /.test(title));
    return odd.length > 0 && odd.join('; ');
  }),
  rule('no figure is missing', 'a word of the program is none for a reader', (r) => {
    const odd = [...said(r), ...r.findings.flatMap((f) => [f.title, f.plain, f.detail])].filter((text) =>
      // In German the sensor reads “null”.
      (r.language === 'de' ? /NaN|undefined|\{\{|Infinity/ : /NaN|undefined|\{\{|Infinity|\bnull\b/).test(text),
    );
    return odd.length > 0 && odd[0];
  }),
];
