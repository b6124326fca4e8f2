// On a narrow screen the parts behind the answer are folded, and so is what a finding rests on: a tap opens them, and so
// does a way that leads into them. On paper everything stands open.
(() => {
  const { words } = globalThis.exploreLog.data;
  if (!matchMedia('(max-width: 40rem)').matches) return;
  const folds = [];
  const fold = (summary, inside) => {
    if (inside.length === 0) return;
    const details = document.createElement('details');
    details.className = 'fold';
    const head = document.createElement('summary');
    head.append(summary);
    inside[0].before(details);
    details.append(head, ...inside);
    folds.push(details);
  };
  for (const id of ['model', 'portrait', 'events', 'log', 'fitting', 'glossary', 'method']) {
    const part = document.getElementById(id);
    const heading = part?.querySelector(':scope > h2');
    if (!heading) continue;
    const inside = [...part.children].filter((child) => child !== heading);
    fold(heading, inside);
  }
  for (const finding of document.querySelectorAll('article.finding')) {
    const [, ...more] = finding.querySelectorAll(':scope > :not(.kind, h3)');
    const of = document.createElement('span');
    of.className = 'unseen';
    of.textContent = `: ${finding.querySelector('h3').textContent}`;
    const said = document.createElement('span');
    said.append(words.more, of);
    fold(said, more);
  }
  const reveal = () => {
    const target = location.hash.length > 1 ? document.getElementById(location.hash.slice(1)) : null;
    if (!target) return;
    for (const details of folds) if (details.contains(target) || details.parentElement === target) details.open = true;
    target.scrollIntoView();
  };
  addEventListener('hashchange', reveal);
  for (const link of document.querySelectorAll('a[href^="#"]'))
    link.addEventListener('click', () => setTimeout(reveal));
  reveal();
  addEventListener('beforeprint', () => {
    for (const details of folds) details.open = true;
  });
})();
