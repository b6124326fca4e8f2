// Search, filters and sorting for a table that is complete without them. A classic script, so that it runs from a file
// share. It reads the table itself: there is no second copy of the data that could differ from what is shown.
(() => {
  const table = document.getElementById('sessions');
  const tools = document.getElementById('tools');
  const told = document.getElementById('told');
  if (!table || !tools || !told) return;
  const body = table.tBodies[0];
  const plain = (text) =>
    text
      .toLowerCase()
      .normalize('NFD')
      .replace(/[\u0300-\u036f]/g, '');
  const rows = Array.from(body.rows, (row) => ({ row, text: plain(row.textContent), data: row.dataset }));
  const picks = Array.from(tools.querySelectorAll('select'));
  const search = tools.querySelector('input');

  const filter = () => {
    const words = plain(search.value).split(/\s+/).filter(Boolean);
    let shown = 0;
    for (const { row, text, data } of rows) {
      const fits =
        words.every((word) => text.includes(word)) &&
        picks.every((pick) => !pick.value || ` ${data[pick.name]} `.includes(` ${pick.value} `));
      row.hidden = !fits;
      if (fits) shown++;
    }
    told.textContent = told.dataset.text.replace('{shown}', shown).replace('{all}', rows.length);
  };

  const collator = new Intl.Collator(document.documentElement.lang, { numeric: true, sensitivity: 'base' });
  const keyOf = ({ row }, column) => row.cells[column].dataset.key ?? row.cells[column].textContent;
  const sortBy = (head, column) => {
    const up = head.getAttribute('aria-sort') === 'descending' || !head.hasAttribute('aria-sort');
    for (const other of table.tHead.rows[0].cells) other.removeAttribute('aria-sort');
    head.setAttribute('aria-sort', up ? 'ascending' : 'descending');
    const sign = up ? 1 : -1;
    rows.sort((a, b) => sign * collator.compare(keyOf(a, column), keyOf(b, column)));
    body.append(...rows.map(({ row }) => row));
  };
  Array.from(table.tHead.rows[0].cells).forEach((head, column) => {
    const button = document.createElement('button');
    button.type = 'button';
    button.append(...head.childNodes);
    button.addEventListener('click', () => sortBy(head, column));
    head.append(button);
  });

  tools.addEventListener('input', filter);
  tools.querySelector('button').addEventListener('click', () => {
    for (const field of [search, ...picks]) field.value = '';
    filter();
  });
  tools.hidden = false;
  filter();
})();
