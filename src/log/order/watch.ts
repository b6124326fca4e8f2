/** What only shows once the rows are in order: gaps, readings that cannot be beside their neighbours, a channel that stands still. */

import { plainText } from '../../base/shown.ts';
import type { Session } from '../../manifest/session.ts';
import type { SampleBlock } from '../block.ts';
import { createFlappingFilter } from './flapping.ts';
import { createFrozenFinder } from './frozen.ts';
import { createGapFinder, type Gap } from './gaps.ts';
import type { Ledger } from './ledger.ts';
import { createLoneCurrentFilter } from './lone-current.ts';

export interface Watch {
  /** `ahead`: rows that the arrays hold in all, the block's first. Takes out readings that cannot be. */
  push(block: SampleBlock, ahead: number): void;
  /** Every gap, in order of time; they are told in the ledger too, which keeps fewer. */
  finish(): Gap[];
}

export function createWatch(session: Session, ledger: Ledger): Watch {
  const { voltage, current } = session.log.columns;
  const nameOf = { voltage: plainText(String(voltage.name)), current: plainText(String(current?.name)) };
  const gaps = createGapFinder();
  const flapping = createFlappingFilter(session.vehicle.systemV, (at, volts) => {
    const found = `${nameOf.voltage}: ${volts} V, from a logger whose supply swings within 2 s between next to nothing and far too much`;
    ledger.tell({ kind: 'out-of-range', at, found, key: 'flapping' });
  });
  const lone = createLoneCurrentFilter(session, (at, amps) => {
    const found = `${nameOf.current}: ${Number(amps.toFixed(3))} A for a row or two, without a trace in the voltage`;
    ledger.tell({ kind: 'out-of-range', at, found, key: 'lone-current' });
  });
  const frozen = createFrozenFinder(({ column, at, seconds, rows }) => {
    const other = column === 'voltage' ? 'current' : 'voltage';
    const found = `${nameOf[column]} stands still while the ${other} moves`;
    ledger.tell({ kind: 'frozen', at, seconds, count: rows, found, alone: true });
  });
  return {
    push(block, ahead) {
      flapping.clean(block, ahead);
      lone.clean(block, ahead);
      frozen.push(block);
      gaps.pushAll(block.t, block.n);
    },
    finish() {
      frozen.finish();
      const found = gaps.finish();
      for (const { at, seconds } of found) ledger.tell({ kind: 'gap', at, seconds, alone: true });
      return found;
    },
  };
}
