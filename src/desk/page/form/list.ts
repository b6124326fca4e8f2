/** A list of the form, such as circuits, notes or photos: its items one below the other, one more, one less. */
import type { Problem } from '../../../base/problem.ts';
import type { Desk } from '../desk.ts';
import { el } from '../dom.ts';
import { type Control, controlOf } from './control.ts';
import type { FieldList } from './fields.ts';
import type { Shown } from './text.ts';

export interface ListControl {
  readonly root: HTMLElement;
  show(shown: Shown, problems: readonly Problem[]): readonly Problem[];
}

export function listOf(list: FieldList, desk: Desk): ListControl {
  const { words, addItem, removeItem } = desk;
  const items = el('div');
  const add = el(
    'button',
    {
      type: 'button',
      id: `add-${list.name.replaceAll('.', '-')}`,
      onclick: () => {
        addItem(list);
        items.querySelector<HTMLElement>('fieldset:last-child input, fieldset:last-child select')?.focus();
      },
    },
    // What is new in the schema and has no words yet goes by its name.
    words.has(`add.${list.name}`) ? words.say(`add.${list.name}`) : `+ ${list.name}`,
  );
  const itemName = (n: number) =>
    words.has(`item.${list.name}`) ? words.say(`item.${list.name}`, { n: n + 1 }) : `${list.name} ${n + 1}`;
  let controls: readonly (readonly Control[])[] = [];

  function lay(count: number): void {
    controls = Array.from({ length: count }, (_, n) =>
      list.fields.map((field) => controlOf({ ...field, way: [...list.way, n, ...field.way] }, desk)),
    );
    items.replaceChildren(
      ...controls.map((own, n) =>
        el(
          'fieldset',
          { class: 'item' },
          el('legend', {}, itemName(n)),
          ...own.map(({ root }) => root),
          el(
            'button',
            {
              type: 'button',
              class: 'quiet',
              onclick: () => {
                removeItem(list, n);
                add.focus();
              },
            },
            words.say('know.remove', { what: itemName(n) }),
          ),
        ),
      ),
    );
  }

  return {
    root: el('div', {}, items, el('p', {}, add)),
    show(shown, problems) {
      const count = shown.count(list.way);
      if (count !== controls.length) lay(count);
      add.hidden = count >= list.most;
      return controls.flatMap((own) => own.flatMap((control) => [...control.show(shown, problems)]));
    },
  };
}
