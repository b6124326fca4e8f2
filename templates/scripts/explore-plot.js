// Draws a stretch of the log: notes, voltage, current, temperature, circuits, periods and the charge summed up, one above
// the other, and how often which current flows. The colours are those of the printed charts; the page's style turns them dark.
globalThis.explorePlot = (({ data, localMs, clock, number, written, indexAt, DAY, HOUR }) => {
  const [LEFT, RIGHT, GAP, FOOT, LANE] = [76, 12, 30, 26, 14];
  const HEIGHTS = { V: 110, A: 170, '°C': 50 };
  const CHARGE = 70;
  const [INK, GREY, GRID, PALE] = ['#1c2530', '#5b6672', '#e4e8ec', '#eef1f4'];
  const [BLUE, BLUE_PALE, ORANGE, ORANGE_PALE] = ['#17527f', '#9dbdd6', '#d9730d', '#f3cfa6'];
  /** From busiest to none, as in the printed picture. */
  const PERIODS = {
    cranking: INK,
    driving: BLUE,
    'key-on': GREY,
    settling: ORANGE_PALE,
    awake: ORANGE,
    asleep: BLUE_PALE,
    'on-charger': GREY,
    disconnected: GREY,
    'no-data': INK,
    unknown: GREY,
  };
  const TICKS_S = [0.2, 0.5, 1, 2, 5, 10, 30, 60, 120, 300, 600, 1800, 3600, 7200, 21600, 43200, 86400, 172800, 604800];
  /** A start is shown with its marks, and evenly, where no more than this is in view. */
  const CLOSE_S = 120;

  const element = (name, attributes, text) => {
    const made = document.createElementNS('http://www.w3.org/2000/svg', name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    if (text !== undefined) made.textContent = text;
    return made;
  };
  const label = (text, x, y, more = {}) => element('text', { x, y, fill: INK, ...more }, text);

  const niceStep = (span, most) => {
    const rough = span / most;
    const power = 10 ** Math.floor(Math.log10(rough));
    return [1, 2, 5, 10].map((times) => times * power).find((step) => step >= rough);
  };

  /** Even steps; of a current over more than a few minutes, decades: or sleep could not be told from nothing. */
  const scaleOf = (unit, least, most, isClose, smallest) => {
    const constant = data.linear_a;
    if (unit === 'A' && !isClose && Math.max(most, -least) > 20 * Math.max(smallest, constant)) {
      const decades = [0.01, 0.1, 1, 10, 100, 1000].filter((a) => a >= 3 * constant);
      const all = [...decades.map((a) => -a).reverse(), 0, ...decades];
      return {
        up: (value) => Math.sign(value) * Math.log1p(Math.abs(value) / constant),
        ticks: all.filter((a) => a >= least * 1.3 && a <= most * 1.3),
        write: (a) => (a === 0 ? '0' : `${a < 0 ? '\u2212' : '+'}${written(Math.abs(a), { unit, decimals: 0 })}`),
        low: least * 1.3,
        high: most * 1.3,
      };
    }
    const step = niceStep(Math.max(most - least, unit === 'A' ? 0.01 : 0.1), 4);
    const first = Math.floor(least / step);
    const count = Math.max(Math.ceil(most / step) - first, 1);
    const ticks = Array.from({ length: count + 1 }, (_, k) => (first + k) * step);
    const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
    const inMilli = unit === 'A' && Math.max(most, -least) < 1;
    const write = (value) =>
      inMilli
        ? `${number(value * 1000, Math.max(0, decimals - 3))}\u00a0mA`
        : `${number(value, decimals)}${unit === 'A' ? '\u00a0A' : ''}`;
    return { up: (value) => value, ticks, write, low: ticks[0], high: ticks[ticks.length - 1] };
  };

  /** Runs of points without a gap, one beyond each edge of the view. */
  const runsOf = ({ t, lo }, { from, to }) => {
    const runs = [[]];
    const last = Math.min(t.length - 1, indexAt(t, to) + 1);
    for (let k = indexAt(t, from); k <= last; k++) {
      if (lo[k] === null) runs.push([]);
      else runs[runs.length - 1].push(k);
    }
    return runs.filter((run) => run.length > 0);
  };

  const heading = (group, text, top) => group.append(label(text, 0, top - 10, { 'font-weight': 600 }));

  const drawPanel = (series, top, height, view, x, width) => {
    const group = element('g', {});
    heading(group, `${series.label}${series.unit === 'A' ? '' : `, ${series.unit}`}`, top);
    const runs = runsOf(series, view);
    const seen = runs.flat();
    if (seen.length === 0) return { group, y: () => top };
    const least = seen.reduce((low, k) => Math.min(low, series.lo[k]), Number.POSITIVE_INFINITY);
    const most = seen.reduce((high, k) => Math.max(high, series.hi[k]), Number.NEGATIVE_INFINITY);
    const smallest = seen.reduce((low, k) => Math.min(low, Math.abs(series.y[k])), Number.POSITIVE_INFINITY);
    const isClose = view.to - view.from <= CLOSE_S;
    const scale = scaleOf(series.unit, least, most, isClose, smallest);
    const [low, high] = [scale.up(scale.low), scale.up(scale.high)];
    const y = (value) => top + height - ((scale.up(value) - low) / (high - low)) * height;
    for (const value of scale.ticks) {
      group.append(element('path', { d: `M${LEFT} ${y(value)}H${width - RIGHT}`, stroke: GRID }));
      group.append(label(scale.write(value), LEFT - 8, y(value) + 4, { 'text-anchor': 'end' }));
    }
    const inner = element('g', { 'clip-path': 'url(#explore-clip)' });
    for (const run of runs) {
      const points = (of) => run.map((k) => `${x(series.t[k]).toFixed(1)} ${y(of[k]).toFixed(1)}`);
      const band = [...points(series.hi), ...points(series.lo).reverse()].join('L');
      inner.append(element('path', { d: `M${band}Z`, fill: BLUE_PALE, stroke: BLUE_PALE }));
      const line = { d: `M${points(series.y).join('L')}`, fill: 'none', stroke: BLUE, 'stroke-width': 1.2 };
      inner.append(element('path', line));
    }
    group.append(inner);
    return { group, y, isClose };
  };

  /** What the report says of a start, on its curve. */
  const drawMarks = (group, { y }, view, x, width, top, height) => {
    for (const [at, seconds, before, lowest, plateau] of data.cranks) {
      if (at > view.to || at + seconds < view.from) continue;
      const [from, inrush, to] = [x(at), x(Math.min(at + data.inrush_s, at + seconds)), x(at + seconds)];
      const box = { y: top, height, 'clip-path': 'url(#explore-clip)' };
      group.prepend(element('rect', { ...box, x: from, width: Math.max(inrush - from, 1), fill: PALE }));
      const right = Math.min(to, width - RIGHT);
      const line = (volts, key, a, b, above, left = Math.min(right + 6, width - RIGHT - 150)) => {
        if (volts === null) return;
        const d = `M${Math.max(a, LEFT)} ${y(volts)}H${b}`;
        group.append(element('path', { d, stroke: ORANGE, 'stroke-dasharray': '5 3', fill: 'none' }));
        const said = `${data.words[key]} ${written(volts, { unit: 'V', decimals: 2 })}`;
        group.append(label(said, left, y(volts) + (above ? -4 : 4)));
      };
      line(before, 'before', LEFT, from, true, LEFT + 6);
      line(plateau, 'plateau', inrush, right, true);
      line(lowest, 'lowest', from, right, false);
      for (const edge of [from, to]) {
        const d = `M${edge} ${top}v${height}`;
        group.append(
          element('path', { d, stroke: GREY, 'stroke-dasharray': '2 3', 'clip-path': 'url(#explore-clip)' }),
        );
      }
    }
  };

  const drawLane = (group, text, spans, top, colour, view, x) => {
    const short = text.length > 12 ? `${text.slice(0, 11)}\u2026` : text;
    group.append(label(short, LEFT - 8, top + 10, { 'text-anchor': 'end', 'font-size': 10 }));
    let path = '';
    let drawn = Number.NEGATIVE_INFINITY;
    for (const [from, to] of spans) {
      if (to < view.from || from > view.to) continue;
      const [a, b] = [Math.max(x(from), LEFT), Math.max(x(to), x(from) + 1)];
      // What lies within a pixel of the last is not seen.
      if (b <= drawn) continue;
      path += `M${a.toFixed(1)} ${top + 6}H${b.toFixed(1)}`;
      drawn = b;
    }
    const look = { stroke: colour, 'stroke-width': LANE - 4, 'clip-path': 'url(#explore-clip)' };
    if (path) group.append(element('path', { d: path, ...look }));
  };

  const drawLanes = (name, lanes, top, view, x) => {
    const group = element('g', {});
    heading(group, name, top);
    for (const [k, [text, spans, colour]] of lanes.entries())
      drawLane(group, text, spans, top + k * LANE, colour, view, x);
    return group;
  };

  const drawTimes = (bottom, view, x, width) => {
    const group = element('g', {});
    const most = Math.max(3, Math.floor((width - LEFT - RIGHT) / 80));
    const step = TICKS_S.find((one) => (view.to - view.from) / one <= most) ?? TICKS_S[TICKS_S.length - 1];
    const offset = localMs(view.from) / 1000 - view.from;
    for (let s = Math.ceil((view.from + offset) / step) * step - offset; s <= view.to; s += step) {
      const midnight = localMs(s) % 86_400_000 === 0;
      const fraction = step < 1 ? { fractionalSecondDigits: 1 } : {};
      const parts = midnight ? DAY : { ...HOUR, ...(step < 60 ? { second: '2-digit', ...fraction } : {}) };
      group.append(element('path', { d: `M${x(s)} ${GAP}V${bottom}`, stroke: GRID }));
      group.append(label(clock(s, parts), x(s), bottom + 16, { 'text-anchor': 'middle' }));
    }
    return group;
  };

  const drawNotes = (top, view, x) => {
    const group = element('g', {});
    heading(group, data.words.notes, top + 14);
    for (const [at, n] of data.notes) {
      if (at < view.from || at > view.to) continue;
      group.append(element('circle', { cx: x(at), cy: top, r: 8, fill: INK }));
      const look = { 'text-anchor': 'middle', fill: 'white', 'font-weight': 600, 'font-size': 10 };
      group.append(label(String(n), x(at), top + 3.5, look));
    }
    return group;
  };

  const kinds = Object.keys(PERIODS).filter((kind) => data.periods.some(([, , , own]) => own === kind));
  const lanesOfPeriods = kinds.map((kind) => {
    const own = data.periods.filter(([, , , one]) => one === kind);
    return [own[0][2], own.map(([from, to]) => [from, to]), PERIODS[kind]];
  });
  const lanesOfCircuits = data.circuits.map(({ label: text, on }) => [text, on, ORANGE]);
  const current = data.series.find(({ unit }) => unit === 'A');
  const charge = data.sums && {
    ...current,
    label: data.words.charge,
    unit: 'Ah',
    decimals: 2,
    lo: data.sums.ah,
    hi: data.sums.ah,
    y: data.sums.ah,
  };

  /** The stretch as an `<svg>` of `width` px; what it shows is told beside it. */
  const drawLog = (view, width) => {
    const x = (s) => LEFT + ((s - view.from) / (view.to - view.from)) * (width - LEFT - RIGHT);
    const parts = [];
    let top = 6;
    if (data.notes.length > 0) {
      parts.push(drawNotes(top + 8, view, x));
      top += 20;
    }
    const first = top + GAP;
    for (const series of data.series) {
      const height = HEIGHTS[series.unit];
      const panel = drawPanel(series, top + GAP, height, view, x, width);
      if (series.unit === 'V' && panel.isClose) drawMarks(panel.group, panel, view, x, width, top + GAP, height);
      parts.push(panel.group);
      top += height + GAP;
    }
    for (const [name, lanes] of [
      [data.words.circuits, lanesOfCircuits],
      [data.words.periods, lanesOfPeriods],
    ]) {
      if (lanes.length === 0) continue;
      parts.push(drawLanes(name, lanes, top + GAP, view, x));
      top += lanes.length * LANE + GAP;
    }
    if (charge) {
      parts.push(drawPanel(charge, top + GAP, CHARGE, view, x, width).group);
      top += CHARGE + GAP;
    }
    const svg = element('svg', {
      viewBox: `0 0 ${width} ${top + FOOT}`,
      width,
      height: top + FOOT,
      'aria-hidden': 'true',
    });
    const clip = element('clipPath', { id: 'explore-clip' });
    clip.append(element('rect', { x: LEFT, y: 0, width: width - LEFT - RIGHT, height: top }));
    const chosen = { class: 'chosen', y: first, height: top - first, width: 0, fill: BLUE, opacity: 0.12 };
    svg.append(clip, drawTimes(top, view, x, width), element('rect', chosen), ...parts);
    for (const name of ['a', 'b']) {
      svg.append(element('path', { class: `cursor-${name}`, stroke: ORANGE, 'stroke-width': 1.5 }));
    }
    return { svg, x, top: first, bottom: top };
  };

  /** Share of the time, asleep and awake, that each class of draw took; null where nothing is known of it. */
  const drawShares = (width) => {
    if (!data.shares) return null;
    const { edges, asleep, awake } = data.shares;
    const states = [
      { name: data.words.asleep, seconds: asleep, fill: BLUE_PALE, stroke: BLUE },
      { name: data.words.awake, seconds: awake, fill: 'none', stroke: ORANGE },
    ].flatMap((state) => {
      const whole = state.seconds.reduce((sum, s) => sum + s, 0);
      return whole > 0 ? [{ ...state, shares: state.seconds.map((s) => s / whole) }] : [];
    });
    if (states.length === 0) return null;
    const used = edges.slice(1).flatMap((_, k) => (states.some(({ shares }) => shares[k] > 0.001) ? [k] : []));
    const [first, last] = [Math.max(0, used[0] - 1), Math.min(edges.length - 2, used[used.length - 1] + 1)];
    const [top, height, bottom] = [40, 120, 160];
    const most = Math.max(...states.flatMap(({ shares }) => shares));
    const x = (k) => LEFT + ((k - first) / (last + 1 - first)) * (width - LEFT - RIGHT);
    const y = (share) => bottom - (share / most) * height;
    const svg = element('svg', {
      viewBox: `0 0 ${width} ${bottom + 40}`,
      width,
      height: bottom + 40,
      'aria-hidden': 'true',
    });
    for (const share of [0, most / 2, most]) {
      svg.append(element('path', { d: `M${LEFT} ${y(share)}H${width - RIGHT}`, stroke: GRID }));
      svg.append(label(`${number(share * 100, 0)}\u00a0%`, LEFT - 8, y(share) + 4, { 'text-anchor': 'end' }));
    }
    for (let k = first; k <= last + 1; k++) {
      const decade = Math.log10(edges[k]);
      if (Math.abs(decade - Math.round(decade)) > 0.01) continue;
      svg.append(element('path', { d: `M${x(k)} ${top}V${bottom}`, stroke: GRID }));
      svg.append(label(written(edges[k], { unit: 'A', decimals: 0 }), x(k), bottom + 16, { 'text-anchor': 'middle' }));
    }
    svg.append(label(data.words.draw, width - RIGHT, bottom + 34, { 'text-anchor': 'end', fill: GREY }));
    for (const [n, { name, shares, fill, stroke }] of states.entries()) {
      let d = `M${x(first)} ${bottom}`;
      for (let k = first; k <= last; k++) d += `V${y(shares[k]).toFixed(1)}H${x(k + 1).toFixed(1)}`;
      svg.append(element('path', { d: `${d}V${bottom}Z`, fill, stroke, 'stroke-width': 1.5 }));
      const at = width < 480 ? n * 110 : LEFT + n * 130;
      svg.append(element('rect', { x: at, y: 8, width: 12, height: 12, fill, stroke, 'stroke-width': 1.5 }));
      svg.append(label(name, at + 18, 18, { 'font-weight': 600 }));
    }
    const usual = ({ name, shares }) => {
      const k = shares.indexOf(Math.max(...shares));
      const said = (a) => written(a, { unit: 'A', decimals: 1 });
      return `${name}: ${said(edges[k])} \u2026 ${said(edges[k + 1])}, ${number(shares[k] * 100, 0)}\u00a0%`;
    };
    return { svg, said: states.map(usual).join('; ') };
  };

  return { drawLog, drawShares, LEFT, RIGHT };
})(globalThis.exploreLog);
