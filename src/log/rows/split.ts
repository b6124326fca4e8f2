/** The careful way to part a line into cells; delimiter `' '` stands for any run of spaces. */
export function splitLine(line: string, delimiter: string): string[] {
  if (delimiter === ' ') return line.trim().split(/ +/);
  if (!line.includes('"')) return line.split(delimiter);
  const cells: string[] = [];
  let at = 0;
  while (at <= line.length) {
    const { cell, end } = readCell(line, at, delimiter);
    cells.push(cell);
    at = end + 1;
  }
  return cells;
}

/** A quoted cell holds delimiters, and `""` for a quote; a quote that is never closed is taken as it stands. */
function readCell(line: string, start: number, delimiter: string): { cell: string; end: number } {
  let at = start;
  while (line[at] === ' ') at++;
  if (line[at] === '"') {
    let cell = '';
    for (let from = at + 1; ; ) {
      const quote = line.indexOf('"', from);
      if (quote < 0) break;
      cell += line.slice(from, quote);
      if (line[quote + 1] !== '"') {
        const end = line.indexOf(delimiter, quote + 1);
        return { cell, end: end < 0 ? line.length : end };
      }
      cell += '"';
      from = quote + 2;
    }
  }
  const end = line.indexOf(delimiter, start);
  return end < 0 ? { cell: line.slice(start), end: line.length } : { cell: line.slice(start, end), end };
}
