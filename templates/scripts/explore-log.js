// The log in the page's data: its times, values and sums, and how they are written. Times count in s from the log's start.
globalThis.exploreLog = (() => {
  const data = JSON.parse(document.getElementById('explore-data').textContent);
  const language = data.locale;

  const localMs = (s) => {
    const utc = data.start + s;
    const [, offset] = data.offsets.findLast(([since]) => since <= utc) ?? data.offsets[0];
    return (utc + offset) * 1000;
  };
  const clock = (s, parts) => new Intl.DateTimeFormat(language, { timeZone: 'UTC', ...parts }).format(localMs(s));
  const DAY = { weekday: 'short', day: 'numeric', month: 'short' };
  const HOUR = { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' };
  const SECOND = { ...HOUR, second: '2-digit' };

  const number = (value, decimals, signed = false) =>
    new Intl.NumberFormat(language, {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      signDisplay: signed ? 'exceptZero' : 'auto',
    })
      .format(value)
      .replace('-', '\u2212');
  const written = (value, { unit, decimals }) =>
    unit === 'A' && Math.abs(value) < 1
      ? `${number(value * 1000, Math.abs(value) < 0.01 ? 1 : 0)}\u00a0mA`
      : `${number(value, decimals)}\u00a0${unit}`;
  /** 12.4 s, 3 min 20 s, 5 h 12 min, 3 days 4 h. */
  const lasted = (s) => {
    const pair = (first, most, a, b) => `${first}\u00a0${a}${most > 0 ? ` ${most}\u00a0${b}` : ''}`;
    if (s < 60) return `${number(s, s < 10 ? 2 : 1)}\u00a0s`;
    if (s < 3600) return pair(Math.floor(s / 60), Math.floor(s % 60), 'min', 's');
    if (s < 86_400) return pair(Math.floor(s / 3600), Math.floor((s % 3600) / 60), 'h', 'min');
    const days = new Intl.NumberFormat(language, { style: 'unit', unit: 'day', unitDisplay: 'long' });
    const hours = Math.floor((s % 86_400) / 3600);
    return `${days.format(Math.floor(s / 86_400))}${hours > 0 ? ` ${hours}\u00a0h` : ''}`;
  };

  /** Index of the last point at or before `s`, at least 0. */
  const indexAt = (times, s) => {
    let [low, high] = [0, times.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (times[middle] <= s) low = middle + 1;
      else high = middle;
    }
    return Math.max(0, low - 1);
  };

  const current = data.series.find(({ unit }) => unit === 'A');
  /** Charge (Ah), energy (Wh) and time with a current (s) from the log's start to `s`; null without a current. */
  const sumsAt = (s) => {
    if (!data.sums || !current) return null;
    const { t } = current;
    const k = indexAt(t, s);
    const next = Math.min(k + 1, t.length - 1);
    const share = t[next] > t[k] ? Math.min(Math.max((s - t[k]) / (t[next] - t[k]), 0), 1) : 0;
    const of = (values) => values[k] + share * (values[next] - values[k]);
    return { ah: of(data.sums.ah), wh: of(data.sums.wh), s: of(data.sums.s) };
  };
  const between = (a, b) => {
    const [from, to] = [sumsAt(Math.min(a, b)), sumsAt(Math.max(a, b))];
    if (!from || !to) return null;
    const [ah, wh, s] = [to.ah - from.ah, to.wh - from.wh, to.s - from.s];
    return { ah, wh, meanA: s > 0 ? (ah * 3600) / s : null };
  };

  /** What the log holds at `s`, in words. */
  const told = (s) => {
    const values = data.series.flatMap((series) => {
      const k = indexAt(series.t, s);
      if (series.lo[k] === null || series.lo[k] === undefined) return [];
      const spread = series.hi[k] - series.lo[k] > 10 ** -series.decimals;
      const range = spread ? ` (${written(series.lo[k], series)} \u2026 ${written(series.hi[k], series)})` : '';
      return [`${series.label} ${written(series.y[k], series)}${range}`];
    });
    const period = data.periods.findLast(([since]) => since <= s);
    const on = data.circuits.filter(({ on: spans }) => spans.some(([from, to]) => from <= s && s <= to));
    const text = [`${clock(s, DAY)}, ${clock(s, SECOND)}`, period?.[2], ...values, ...on.map(({ label }) => label)];
    return text.filter(Boolean).join(' \u00b7 ');
  };

  return { data, current, localMs, clock, number, written, lasted, indexAt, sumsAt, between, told, DAY, HOUR, SECOND };
})();
