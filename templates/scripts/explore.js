// The log at closer range, drawn from the data in the page: a cursor that reads values, and zoom. The page is complete
// without it. The plot is a slider to the keyboard and to screen readers: its value is the moment, in words.
(() => {
  const byId = (id) => document.getElementById(id);
  const data = JSON.parse(byId('explore-data').textContent);
  const plot = byId('explore-plot');
  const reading = byId('explore-reading');
  const events = byId('explore-event');
  const language = data.locale;
  const [WIDTH, LEFT, RIGHT, HEIGHT, GAP, FOOT] = [720, 60, 12, 120, 30, 26];
  const SHORTEST_S = 10;
  const TICKS_S = [1, 2, 5, 10, 30, 60, 120, 300, 600, 1800, 3600, 7200, 21600, 43200, 86400, 172800, 604800];
  const view = { from: 0, to: data.seconds };
  let at = 0;
  let dragFrom = null;

  // Times in the data count from the log's start; on the page they are those of the session's zone.
  const localMs = (s) => {
    const utc = data.start + s;
    const [, offset] = data.offsets.findLast(([since]) => since <= utc) ?? data.offsets[0];
    return (utc + offset) * 1000;
  };
  const clock = (s, parts) => new Intl.DateTimeFormat(language, { timeZone: 'UTC', ...parts }).format(localMs(s));
  const DAY = { weekday: 'short', day: 'numeric', month: 'short' };
  const HOUR = { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' };
  const number = (value, decimals) =>
    new Intl.NumberFormat(language, { minimumFractionDigits: decimals, maximumFractionDigits: decimals })
      .format(value)
      .replace('-', '\u2212');
  const written = (value, { unit, decimals }) =>
    unit === 'A' && Math.abs(value) < 1
      ? `${number(value * 1000, 0)}\u00a0mA`
      : `${number(value, decimals)}\u00a0${unit}`;

  const element = (name, attributes, text) => {
    const made = document.createElementNS('http://www.w3.org/2000/svg', name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    if (text !== undefined) made.textContent = text;
    return made;
  };
  const x = (s) => LEFT + ((s - view.from) / (view.to - view.from)) * (WIDTH - LEFT - RIGHT);

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

  const niceStep = (span, most) => {
    const rough = span / most;
    const power = 10 ** Math.floor(Math.log10(rough));
    return [1, 2, 5, 10].map((times) => times * power).find((step) => step >= rough);
  };

  /**
   * Even steps; but where cranking and sleep are in view together, each decade of current takes the same height, or the
   * sleeping draw could not be told from nothing.
   */
  const scaleOf = ({ unit, decimals }, least, most) => {
    if (unit === 'A' && Math.max(most, -least) > 10) {
      const decades = [-1000, -100, -10, -1, 0, 1, 10, 100, 1000];
      const inside = decades.filter((value) => value >= least && value <= most);
      return {
        up: (value) => Math.asinh(value / 0.1),
        ticks: inside.includes(0) ? inside : [0, ...inside].sort((a, b) => a - b),
      };
    }
    const step = niceStep(Math.max(most - least, 10 ** -decimals), 3);
    const first = Math.floor(least / step);
    const count = Math.max(Math.ceil(most / step) - first, 1);
    return { up: (value) => value, ticks: Array.from({ length: count + 1 }, (_, k) => (first + k) * step) };
  };

  /** Runs of points without a gap, one beyond each edge of the view. */
  const runsOf = ({ t, lo }) => {
    const runs = [[]];
    const last = Math.min(t.length - 1, indexAt(t, view.to) + 1);
    for (let k = indexAt(t, view.from); k <= last; k++) {
      if (lo[k] === null) runs.push([]);
      else runs[runs.length - 1].push(k);
    }
    return runs.filter((run) => run.length > 0);
  };

  const drawPanel = (series, top) => {
    const runs = runsOf(series);
    const seen = runs.flat();
    const least = seen.reduce((low, k) => Math.min(low, series.lo[k]), Number.POSITIVE_INFINITY);
    const most = seen.reduce((high, k) => Math.max(high, series.hi[k]), Number.NEGATIVE_INFINITY);
    const group = element('g', {});
    group.append(element('text', { x: 0, y: top - 10, 'font-weight': 600 }, `${series.label}, ${series.unit}`));
    if (seen.length === 0) return group;
    const { up, ticks } = scaleOf(series, least, most);
    const [low, high] = [up(Math.min(least, ticks[0])), up(Math.max(most, ticks[ticks.length - 1]))];
    const y = (value) => top + HEIGHT - ((up(value) - low) / (high - low)) * HEIGHT;
    const decimals = Math.max(
      ...ticks.map((value) => (String(Number(value.toPrecision(6))).split('.')[1] ?? '').length),
    );
    for (const value of ticks) {
      group.append(element('path', { d: `M${LEFT} ${y(value)}H${WIDTH - RIGHT}`, stroke: '#e4e8ec' }));
      const label = Math.abs(value) > 1 ? number(value, Math.min(decimals, series.decimals)) : number(value, decimals);
      group.append(element('text', { x: LEFT - 8, y: y(value) + 4, 'text-anchor': 'end' }, label));
    }
    const inner = element('g', { 'clip-path': 'url(#explore-clip)' });
    for (const run of runs) {
      const points = (of) => run.map((k) => `${x(series.t[k]).toFixed(1)} ${y(of[k]).toFixed(1)}`);
      const band = [...points(series.hi), ...points(series.lo).reverse()].join('L');
      inner.append(element('path', { d: `M${band}Z`, fill: '#9dbdd6', stroke: '#9dbdd6' }));
      inner.append(
        element('path', { d: `M${points(series.y).join('L')}`, fill: 'none', stroke: '#17527f', 'stroke-width': 1.2 }),
      );
    }
    group.append(inner);
    return group;
  };

  const drawTimes = (bottom) => {
    const group = element('g', {});
    const step = TICKS_S.find((one) => (view.to - view.from) / one <= 8) ?? TICKS_S[TICKS_S.length - 1];
    const offset = (s) => localMs(s) / 1000 - s;
    for (
      let s = Math.ceil((view.from + offset(view.from)) / step) * step - offset(view.from);
      s <= view.to;
      s += step
    ) {
      const midnight = localMs(s) % 86_400_000 === 0;
      const parts = midnight ? DAY : { ...HOUR, ...(step < 60 ? { second: '2-digit' } : {}) };
      group.append(element('path', { d: `M${x(s)} ${GAP}V${bottom}`, stroke: '#e4e8ec' }));
      group.append(element('text', { x: x(s), y: bottom + 16, 'text-anchor': 'middle' }, clock(s, parts)));
    }
    return group;
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
    const text = [`${clock(s, DAY)}, ${clock(s, { ...HOUR, second: '2-digit' })}`, period?.[1], ...values];
    return text.filter(Boolean).join(' \u00b7 ');
  };

  const read = () => {
    reading.textContent = told(at);
    plot.setAttribute('aria-valuenow', String(Math.round(at)));
    plot.setAttribute('aria-valuetext', reading.textContent);
  };

  const drawCursor = () => {
    const old = plot.querySelector('.cursor');
    const bottom = data.series.length * (HEIGHT + GAP);
    old?.setAttribute('d', `M${x(at).toFixed(1)} ${GAP}V${bottom}`);
    const [a, b] = dragFrom === null ? [at, at] : [Math.min(dragFrom, at), Math.max(dragFrom, at)];
    const chosen = plot.querySelector('.chosen');
    chosen?.setAttribute('x', x(a).toFixed(1));
    chosen?.setAttribute('width', (x(b) - x(a)).toFixed(1));
    read();
  };

  const draw = () => {
    const bottom = data.series.length * (HEIGHT + GAP);
    const svg = element('svg', { viewBox: `0 0 ${WIDTH} ${bottom + FOOT}`, 'aria-hidden': 'true' });
    const clip = element('clipPath', { id: 'explore-clip' });
    clip.append(element('rect', { x: LEFT, y: 0, width: WIDTH - LEFT - RIGHT, height: bottom }));
    svg.append(clip, drawTimes(bottom));
    for (const [k, series] of data.series.entries()) svg.append(drawPanel(series, k * (HEIGHT + GAP) + GAP));
    svg.append(
      element('rect', { class: 'chosen', y: GAP, height: bottom - GAP, width: 0, fill: '#17527f', opacity: 0.15 }),
    );
    svg.append(element('path', { class: 'cursor', stroke: '#d9730d', 'stroke-width': 1.5 }));
    plot.replaceChildren(svg);
    drawCursor();
  };

  const show = (from, to) => {
    const span = Math.min(Math.max(to - from, SHORTEST_S), data.seconds);
    view.from = Math.min(Math.max(0, (from + to - span) / 2), data.seconds - span);
    view.to = view.from + span;
    at = Math.min(Math.max(at, view.from), view.to);
    draw();
  };
  const zoom = (times) => show(at - (at - view.from) * times, at + (view.to - at) * times);
  const shift = (share) => show(view.from + share * (view.to - view.from), view.to + share * (view.to - view.from));
  const move = (s) => {
    at = Math.min(Math.max(0, s), data.seconds);
    if (at < view.from || at > view.to) shift(at < view.from ? -0.5 : 0.5);
    drawCursor();
  };
  const ACTIONS = {
    in: () => zoom(0.5),
    out: () => zoom(2),
    earlier: () => shift(-0.5),
    later: () => shift(0.5),
    whole: () => show(0, data.seconds),
  };

  for (const button of byId('explore').querySelectorAll('button')) {
    button.addEventListener('click', ACTIONS[button.value]);
  }
  for (const [k, [, , label]] of data.events.entries()) events.add(new Option(label, String(k)));
  events.addEventListener('change', () => {
    const [from, to] = data.events[Number(events.value)];
    const margin = Math.max(0.2 * (to - from), 30);
    at = from;
    show(from - margin, to + margin);
  });
  plot.addEventListener('keydown', (event) => {
    const step = ((view.to - view.from) / 200) * (event.shiftKey ? 10 : 1);
    const keys = {
      ArrowLeft: () => move(at - step),
      ArrowRight: () => move(at + step),
      ArrowDown: () => move(at - step),
      ArrowUp: () => move(at + step),
      Home: () => move(view.from),
      End: () => move(view.to),
      PageUp: ACTIONS.earlier,
      PageDown: ACTIONS.later,
      '+': ACTIONS.in,
      '-': ACTIONS.out,
      0: ACTIONS.whole,
    };
    if (!keys[event.key] || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    keys[event.key]();
  });
  const momentOf = (event) => {
    const box = plot.firstElementChild.getBoundingClientRect();
    const px = ((event.clientX - box.left) / box.width) * WIDTH;
    const s = view.from + ((px - LEFT) / (WIDTH - LEFT - RIGHT)) * (view.to - view.from);
    return Math.min(Math.max(s, view.from), view.to);
  };
  plot.addEventListener('pointermove', (event) => {
    at = momentOf(event);
    drawCursor();
  });
  plot.addEventListener('pointerdown', (event) => {
    if (event.pointerType === 'mouse') dragFrom = momentOf(event);
  });
  addEventListener('pointerup', () => {
    if (dragFrom === null) return;
    const [from, to] = [Math.min(dragFrom, at), Math.max(dragFrom, at)];
    dragFrom = null;
    if (to - from > (view.to - view.from) / 100) show(from, to);
    else drawCursor();
  });
  plot.addEventListener('dblclick', ACTIONS.whole);

  // The picture of the whole log above tells its values too: a line under the pointer, and their words below.
  const picture = document.querySelector('#figure-session-overview svg');
  if (picture) {
    const { left, right } = data.plot;
    const { width, height } = picture.viewBox.baseVal;
    const line = element('path', { stroke: '#d9730d', 'stroke-width': 1.5, 'pointer-events': 'none' });
    const words = byId('overview-reading');
    picture.append(line);
    picture.addEventListener('pointermove', (event) => {
      const box = picture.getBoundingClientRect();
      const px = Math.min(Math.max(((event.clientX - box.left) / box.width) * width, left), width - right);
      line.setAttribute('d', `M${px.toFixed(1)} 0V${height}`);
      words.textContent = told(((px - left) / (width - left - right)) * data.seconds);
    });
    picture.addEventListener('pointerleave', () => {
      line.removeAttribute('d');
      words.textContent = '';
    });
  }

  plot.setAttribute('aria-valuemax', String(Math.round(data.seconds)));
  byId('explore').hidden = false;
  draw();
})();
