import { useEffect, useState } from 'preact/hooks';
import type { Entry } from '../../care/log/timeline.ts';
import { type Supply, supplies } from '../../care/supplies/orders.ts';
import { useBook } from '../context.ts';
import { supplyOptions } from '../supply-options.ts';

export interface SuppliesState {
  entries: readonly Entry[];
  all: readonly Supply[];
}

/** The supplies of the open book, reckoned anew whenever its log changes. Undefined until the stock of all months is read. */
export function useSupplies(): SuppliesState | undefined {
  const { notebook, state, book } = useBook();
  const [found, setFound] = useState<SuppliesState | undefined>();
  useEffect(() => {
    let current = true;
    void notebook.stockEntries().then((entries) => {
      if (!current) return;
      setFound({
        entries,
        all: supplies(book.plan, entries, notebook.device.now(), notebook.device.zone(), supplyOptions(book, state.settings)),
      });
    });
    return () => {
      current = false;
    };
  }, [notebook, state.entries, state.settings.leadDays, book]);
  return found;
}
