// The picture of the session in the page: two cursors that measure between them, zoom, ways to every finding and event, and
// what is shown as a file. The page is complete without it. The cursors are sliders to the keyboard and to screen readers:
// the value of each is its moment, in words.
(({ data, number, written, lasted, between, told }, { drawLog, drawShares, LEFT, RIGHT }) => {
  const byId = (id) => document.getElementById(id);
  const [room, picture, reading, events, back] = ['plot', 'picture', 'reading', 'event', 'back'].map((name) =>
    byId(`explore-${name}`),
  );
  const SHORTEST_S = 2;
  const view = { from: 0, to: data.seconds };
  const at = { a: 0, b: data.seconds };
  const names = ['a', 'b'];
  let drawn = null;
  let cameFrom = null;

  /** Three figures: a difference of sums is no surer. */
  const digits = (value) => Math.min(2, Math.max(0, 2 - Math.floor(Math.log10(Math.max(Math.abs(value), 1)))));
  const measured = () => {
    const found = between(at.a, at.b);
    const says = {
      time: lasted(Math.abs(at.b - at.a)),
      charge: found ? `${number(found.ah, Math.abs(found.ah) < 1 ? 3 : 2, true)}\u00a0Ah` : '\u2013',
      mean:
        found && found.meanA !== null ? written(found.meanA, { unit: 'A', decimals: digits(found.meanA) }) : '\u2013',
      energy: found ? `${number(found.wh, Math.abs(found.wh) < 10 ? 2 : 1, true)}\u00a0Wh` : '\u2013',
    };
    for (const [key, text] of Object.entries(says)) byId(`explore-${key}`).textContent = text;
  };

  const place = () => {
    for (const name of names) {
      const handle = byId(`explore-${name}`);
      const inView = at[name] >= view.from && at[name] <= view.to;
      const px = drawn.x(at[name]);
      handle.style.left = `${px}px`;
      handle.classList.toggle('away', !inView);
      const line = picture.querySelector(`.cursor-${name}`);
      line.setAttribute('d', inView ? `M${px.toFixed(1)} ${drawn.top}V${drawn.bottom}` : '');
      handle.setAttribute('aria-valuemax', String(Math.round(data.seconds)));
      handle.setAttribute('aria-valuenow', String(Math.round(at[name])));
      handle.setAttribute('aria-valuetext', told(at[name]));
    }
    const inside = (s) => Math.min(Math.max(s, view.from), view.to);
    const [from, to] = [inside(Math.min(at.a, at.b)), inside(Math.max(at.a, at.b))];
    const chosen = picture.querySelector('.chosen');
    const isWhole = from <= view.from && to >= view.to;
    chosen.setAttribute('x', drawn.x(from).toFixed(1));
    chosen.setAttribute('width', isWhole ? 0 : (drawn.x(to) - drawn.x(from)).toFixed(1));
    measured();
  };
  const read = (s) => {
    reading.textContent = told(s);
  };

  const width = () => Math.max(300, Math.round(room.clientWidth));
  const draw = () => {
    drawn = drawLog(view, width());
    picture.replaceChildren(drawn.svg);
    place();
  };

  const show = (from, to) => {
    const span = Math.min(Math.max(to - from, SHORTEST_S), data.seconds);
    view.from = Math.min(Math.max(0, (from + to - span) / 2), data.seconds - span);
    view.to = view.from + span;
    draw();
  };
  const zoom = (times, around = (view.from + view.to) / 2) =>
    show(around - (around - view.from) * times, around + (view.to - around) * times);
  const shift = (share) => show(view.from + share * (view.to - view.from), view.to + share * (view.to - view.from));
  const move = (name, s) => {
    at[name] = Math.min(Math.max(0, s), data.seconds);
    if (at[name] < view.from || at[name] > view.to) shift(at[name] < view.from ? -0.5 : 0.5);
    else place();
    read(at[name]);
  };
  /** The stretch with some of what lies around it, between the cursors. */
  const go = (from, to) => {
    const margin = Math.max(0.2 * (to - from), to - from < 10 ? 1 : 30);
    [at.a, at.b] = [from, to];
    show(from - margin, to + margin);
    read(from);
  };

  const save = (name, type, text) => {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([text], { type }));
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  };
  const savePicture = () => {
    const copy = drawn.svg.cloneNode(true);
    copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
    copy.setAttribute('font-family', 'Inter, sans-serif');
    copy.setAttribute('font-size', '11');
    copy.querySelector('.chosen').remove();
    const ground = document.createElementNS('http://www.w3.org/2000/svg', 'rect');
    for (const [key, value] of Object.entries({ width: '100%', height: '100%', fill: 'white' })) {
      ground.setAttribute(key, value);
    }
    copy.prepend(ground);
    save(`${data.name}.svg`, 'image/svg+xml', new XMLSerializer().serializeToString(copy));
  };
  /** What is in view, as it stands in the page: a row for each point of a quantity. */
  const saveData = () => {
    const cell = (text) => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
    const rows = data.series.flatMap((series) =>
      series.t.flatMap((t, k) => {
        if (t < view.from || t > view.to || series.lo[k] === null) return [];
        const time = new Date((data.start + t) * 1000).toISOString();
        return [[time, cell(series.label), series.unit, series.y[k], series.lo[k], series.hi[k]].join(',')];
      }),
    );
    save(`${data.name}.csv`, 'text/csv', `time_utc,quantity,unit,mean,lowest,highest\n${rows.join('\n')}\n`);
  };

  const ACTIONS = {
    in: () => zoom(0.5),
    out: () => zoom(2),
    earlier: () => shift(-0.5),
    later: () => shift(0.5),
    whole: () => show(0, data.seconds),
    between: () => show(Math.min(at.a, at.b), Math.max(at.a, at.b)),
    picture: savePicture,
    data: saveData,
    back: () => {
      back.hidden = true;
      cameFrom?.scrollIntoView({ block: 'center' });
      cameFrom?.focus({ preventScroll: true });
    },
  };
  for (const button of byId('explore').querySelectorAll('button')) {
    button.addEventListener('click', ACTIONS[button.value]);
  }

  for (const [k, [, , label]] of data.events.entries()) events.add(new Option(label, String(k)));
  events.addEventListener('change', () => {
    const [from, to] = data.events[Number(events.value)];
    if (Number(events.value) === 0) ACTIONS.whole();
    else go(from, to);
  });

  // From a finding, and from the time of a row in a table, to its place.
  const leadsTo = (button, stretch) => {
    const [from, lengthS] = stretch.split(' ').map(Number);
    button.type = 'button';
    button.classList.add('go');
    button.addEventListener('click', () => {
      cameFrom = button;
      back.hidden = false;
      go(from, from + lengthS);
      byId('explore').scrollIntoView({ block: 'start' });
      byId('explore-a').focus({ preventScroll: true });
    });
  };
  for (const row of document.querySelectorAll('tr[data-at]')) {
    const head = row.querySelector('th');
    const button = document.createElement('button');
    button.append(...head.childNodes);
    head.append(button);
    leadsTo(button, row.dataset.at);
  }
  for (const finding of document.querySelectorAll('article[data-at]')) {
    const button = document.createElement('button');
    button.className = 'screen-only';
    button.textContent = data.words.show;
    const of = document.createElement('span');
    of.className = 'unseen';
    of.textContent = `: ${finding.querySelector('h3, h4').textContent}`;
    button.append(of);
    finding.querySelector('.kind').append(button);
    leadsTo(button, finding.dataset.at);
  }

  for (const name of names) {
    const handle = byId(`explore-${name}`);
    handle.addEventListener('focus', () => read(at[name]));
    handle.addEventListener('keydown', (event) => {
      const step = ((view.to - view.from) / 200) * (event.shiftKey ? 10 : 1);
      const keys = {
        ArrowLeft: () => move(name, at[name] - step),
        ArrowRight: () => move(name, at[name] + step),
        ArrowDown: () => move(name, at[name] - step),
        ArrowUp: () => move(name, at[name] + step),
        Home: () => move(name, view.from),
        End: () => move(name, view.to),
        PageUp: ACTIONS.earlier,
        PageDown: ACTIONS.later,
        Enter: ACTIONS.between,
        '+': () => zoom(0.5, at[name]),
        '-': () => zoom(2, at[name]),
        0: ACTIONS.whole,
      };
      if (!keys[event.key] || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      keys[event.key]();
    });
  }

  const momentOf = (event) => {
    const box = drawn.svg.getBoundingClientRect();
    const px = ((event.clientX - box.left) / box.width) * drawn.svg.viewBox.baseVal.width;
    const share = (px - LEFT) / (drawn.svg.viewBox.baseVal.width - LEFT - RIGHT);
    return Math.min(Math.max(view.from + share * (view.to - view.from), view.from), view.to);
  };
  let held = null;
  room.addEventListener('pointerdown', (event) => {
    const name = names.find((one) => event.target === byId(`explore-${one}`));
    // A press beside the cursors begins a new stretch; it becomes one when the pointer has gone some way.
    held = { name, from: momentOf(event), x: event.clientX };
    if (name) event.target.setPointerCapture(event.pointerId);
  });
  room.addEventListener('pointermove', (event) => {
    const s = momentOf(event);
    if (!held) return read(s);
    if (held.name) return move(held.name, s);
    if (Math.abs(event.clientX - held.x) < 6) return;
    [at.a, at.b] = [held.from, s];
    place();
    read(s);
  });
  addEventListener('pointerup', (event) => {
    if (held && !held.name && Math.abs(event.clientX - held.x) < 6) move(event.shiftKey ? 'b' : 'a', held.from);
    held = null;
  });
  addEventListener('pointercancel', () => {
    held = null;
  });
  picture.addEventListener('dblclick', ACTIONS.whole);

  // One picture on screen: the printed one gives way to this, in the same place.
  const figure = byId('figure-session-overview');
  figure?.querySelector('.plate')?.classList.add('paper-only');
  figure?.prepend(byId('explore'));
  byId('explore').hidden = false;
  const drawBoth = () => {
    draw();
    const shares = drawShares(width());
    byId('explore-shares').hidden = shares === null;
    if (shares === null) return;
    byId('explore-histogram').replaceChildren(shares.svg);
    byId('explore-histogram').setAttribute('aria-label', shares.said);
  };
  drawBoth();
  read(0);
  let known = width();
  addEventListener('resize', () => {
    if (width() === known) return;
    known = width();
    drawBoth();
  });
})(globalThis.exploreLog, globalThis.explorePlot);
