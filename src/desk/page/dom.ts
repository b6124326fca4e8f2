/** Elements made in one line. Text is always text: nothing from outside becomes markup. */

type Child = Node | string | null;
type Attributes = Readonly<Record<string, string | boolean | EventListener | undefined>>;

/** Attributes whose name begins with `on` are listeners; `false` and undefined are left out. */
export function el<K extends keyof HTMLElementTagNameMap>(
  name: K,
  attributes: Attributes = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (typeof value === 'function') made.addEventListener(key.slice(2), value);
    else if (value !== undefined && value !== false) made.setAttribute(key, value === true ? '' : String(value));
  }
  made.append(...children.filter((child) => child !== null));
  return made;
}

/** Gives a file to keep. */
export function download(blob: Blob, name: string): void {
  const address = URL.createObjectURL(blob);
  el('a', { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
