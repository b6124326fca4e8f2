// Search, filters and order over all sessions of an archive. A classic script with its data in the page, so that it runs from a
// file share. Without it the page has the newest sessions, and the pages of months have all.
(() => {
  const STEP = 50;
  const FIELDS =
    'id title concern vehicle name folder order technician day date purpose purposeWord status statusWord checks headlines';
  const STATUSES = ['fault', 'watch', 'undecided', 'clear'];
  const find = (id) => document.getElementById(id);
  const [table, tools, told, more, rest] = ['sessions', 'tools', 'told', 'more', 'rest'].map(find);
  const body = table.tBodies[0];
  // Read when it is asked for: until then the page is as quick as its first rows.
  let sessions = null;
  const all = () => {
    if (sessions) return sessions;
    const { texts, rows } = JSON.parse(find('data').textContent);
    const names = FIELDS.split(' ');
    sessions = rows.map((row) => {
      const one = {};
      for (let k = 0; k < names.length; k++) one[names[k]] = texts[row[k]];
      return one;
    });
    return sessions;
  };
  const fields = Array.from(tools.querySelectorAll('input, select'));
  const order = { by: '', up: true };
  let shown = STEP;

  // "M-FL 117", "m fl117" and "mfl 117" are one registration; accents do not matter.
  const squeezed = (text) =>
    text
      .normalize('NFD')
      .toLowerCase()
      .replace(/\p{M}/gu, '')
      .replace(/[^\p{L}\p{N}]+/gu, '');
  const wordsOf = (text) =>
    text
      .split(/[^\p{L}\p{N}]+/u)
      .map(squeezed)
      .filter(Boolean);
  const known = new Map();
  const once = (make) => {
    const made = new Map();
    return (text) => {
      if (!made.has(text)) made.set(text, make(text));
      return made.get(text);
    };
  };
  const squeeze = once(squeezed);
  const split = once(wordsOf);
  // What a session is found by: names as one piece, since people write their parts together or apart; and all words.
  const searched = (one) => {
    const found = known.get(one);
    if (found) return found;
    const keys = [one.name, one.order, one.id, one.title].map(squeeze);
    const words = [
      'title',
      'concern',
      'vehicle',
      'name',
      'order',
      'id',
      'technician',
      'date',
      'purposeWord',
      'statusWord',
      'headlines',
    ];
    const made = { keys, words: words.flatMap((name) => split(one[name])), day: one.day };
    made.text = `${keys.join(' ')} ${made.words.join(' ')}`;
    known.set(one, made);
    return made;
  };

  // 2025-10, 2025-10-14, 10/2025, 10.2025, 14.10.2025 and 14/10/2025 are dates: what the day begins with.
  const dateIn = (word) => {
    const two = (digits) => digits.padStart(2, '0');
    const iso = /^(\d{4})-(\d\d?)(?:-(\d\d?))?$/.exec(word);
    if (iso) return [iso[1], two(iso[2]), iso[3] && two(iso[3])].filter(Boolean).join('-');
    const local = /^(?:(\d\d?)[./])?(\d\d?)[./](\d{4})$/.exec(word);
    return local && [local[3], two(local[2]), local[1] && two(local[1])].filter(Boolean).join('-');
  };

  const questionOf = (text) => {
    const parts = text.trim().split(/\s+/).filter(Boolean);
    const dates = parts.map(dateIn).filter(Boolean);
    const words = parts
      .filter((part) => !dateIn(part))
      .map(squeezed)
      .filter(Boolean);
    return { dates, words, whole: words.join('') };
  };
  // 0: a name is just this; 1: a name begins so; 2: every word is one of the session's; 3: every word is somewhere in it.
  const rankOf = (one, { dates, words, whole }) => {
    const own = searched(one);
    if (!dates.every((date) => own.day.startsWith(date))) return -1;
    if (whole === '' || own.keys.includes(whole)) return 0;
    if (own.keys.some((key) => key.startsWith(whole))) return 1;
    if (words.every((word) => own.words.includes(word))) return 2;
    return words.every((word) => own.text.includes(word)) ? 3 : -1;
  };

  const collator = new Intl.Collator(document.documentElement.lang, { numeric: true, sensitivity: 'base' });
  const byOrder = (a, b) => {
    const [x, y] = order.up ? [a, b] : [b, a];
    return order.by === 'status'
      ? STATUSES.indexOf(x.status) - STATUSES.indexOf(y.status)
      : collator.compare(x[order.by], y[order.by]);
  };
  const answer = () => {
    const { q, from, to, purpose, status, checks } = Object.fromEntries(fields.map(({ name, value }) => [name, value]));
    const question = questionOf(q);
    const ranked = [];
    for (const one of all()) {
      if ((from && one.day < from) || (to && one.day > to)) continue;
      if ((purpose && one.purpose !== purpose) || (status && one.status !== status)) continue;
      if (checks && !one.checks.split(' ').includes(checks)) continue;
      const rank = rankOf(one, question);
      if (rank >= 0) ranked.push({ one, rank });
    }
    // Sorting keeps the order of equals: the newest first.
    ranked.sort((a, b) => (order.by ? byOrder(a.one, b.one) : a.rank - b.rank));
    return ranked.map(({ one }) => one);
  };

  const made = (tag, ...inside) => {
    const element = document.createElement(tag);
    element.append(...inside);
    return element;
  };
  const link = (href, text) => Object.assign(made('a', text), { href });
  const page = (folder, name) => `${folder}/${encodeURIComponent(name)}/index.html`;
  const small = (text) => Object.assign(made('span', text), { className: 'small' });
  const whole = (...inside) => Object.assign(made('td', ...inside), { className: 'whole' });
  const shape = body.querySelector('.status svg').cloneNode(true);
  const mark = (one) => {
    const svg = shape.cloneNode(true);
    svg.firstElementChild.setAttribute('href', `#mark-${one.status}`);
    return Object.assign(made('span', svg, one.statusWord), { className: `status ${one.status}` });
  };
  const rowOf = (one) => {
    const head = made('th', link(page('sessions', one.id), one.title));
    head.scope = 'row';
    if (one.concern) head.append(made('br'), small(one.concern));
    return made(
      'tr',
      head,
      made('td', one.vehicle),
      whole(one.folder ? link(page('vehicles', one.folder), one.name) : ''),
      whole(one.order),
      whole(one.date),
      made('td', one.purposeWord),
      made('td', one.technician),
      made('td', mark(one), ...one.headlines.split('\n').flatMap((line) => [made('br'), line])),
    );
  };

  let found = null;
  const show = () => {
    body.replaceChildren(...found.slice(0, shown).map(rowOf));
    tell(found.length);
  };
  const tell = (count) => {
    const numbers = { found: count, all: told.dataset.all, shown: Math.min(shown, count) };
    more.hidden = count <= shown;
    told.textContent = told.dataset.text.replace(/\{(\w+)\}/g, (_, name) => numbers[name]);
  };
  const heads = Array.from(table.tHead.rows[0].cells);
  const update = () => {
    shown = STEP;
    found = answer();
    for (const head of heads) {
      if (head.dataset.sort === order.by) head.setAttribute('aria-sort', order.up ? 'ascending' : 'descending');
      else head.removeAttribute('aria-sort');
    }
    show();
  };

  // What was asked for stands in the address, so that it can be kept, sent and gone back to.
  const write = () => {
    const asked = new URLSearchParams(fields.filter(({ value }) => value).map(({ name, value }) => [name, value]));
    if (order.by) asked.set('order', `${order.up ? '' : '-'}${order.by}`);
    const hash = String(asked);
    history.replaceState(null, '', hash ? `#${hash}` : location.href.split('#')[0]);
  };
  const read = () => {
    const asked = new URLSearchParams(location.hash.slice(1));
    for (const field of fields) field.value = asked.get(field.name) ?? '';
    const [, down, by] = /^(-?)(\w+)$/.exec(asked.get('order') ?? '') ?? [];
    Object.assign(order, { by: heads.some(({ dataset }) => dataset.sort === by) ? by : '', up: !down });
  };

  for (const head of heads) {
    const button = made('button', ...head.childNodes);
    button.type = 'button';
    button.addEventListener('click', () => {
      const { sort } = head.dataset;
      Object.assign(order, { up: order.by !== sort || !order.up, by: sort });
      write();
      update();
    });
    head.append(button);
  }
  tools.addEventListener('input', () => {
    write();
    update();
  });
  find('reset').addEventListener('click', () => {
    for (const field of fields) field.value = '';
    order.by = '';
    write();
    update();
  });
  more.addEventListener('click', () => {
    const first = shown;
    found ??= answer();
    shown += STEP;
    show();
    body.rows[first]?.querySelector('a')?.focus();
  });
  addEventListener('hashchange', () => {
    if (location.hash.includes('=') || location.hash === '') {
      read();
      update();
    }
  });
  tools.hidden = false;
  if (rest) rest.hidden = true;
  if (location.hash.includes('=')) read();
  if (fields.some(({ value }) => value) || order.by) update();
  else tell(Number(told.dataset.all));
})();
