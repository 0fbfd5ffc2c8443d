import { clear } from 'idb-keyval';
import { realDevice } from '../../app/store/device.ts';
import { Notebook, SILENT } from '../../app/store/notebook.ts';
import { openShelf } from '../../app/store/shelf.ts';
import { ACTS, type ActName, halfDone, look, lookBefore } from '../store/acts.ts';

/** What the outside is told by the console, for nothing else gets out of a page that is about to be killed. */
const tell = (what: string, ids: readonly string[] = []): void => console.debug(JSON.stringify({ kill: what, ids }));

const emptied = async () => {
  const shelf = openShelf();
  await Promise.all([clear(shelf.log), clear(shelf.photos), clear(shelf.book)]);
  return shelf;
};

const tools = {
  /** Empties the phone and fills it with what an act finds. */
  async prepare(name: ActName, size: number) {
    await ACTS[name].prepare(await emptied(), size);
    return lookBefore(name, openShelf());
  },
  async run(name: ActName, size: number) {
    tell('begun');
    await ACTS[name].run(openShelf(), (ids) => tell('saved', ids), size);
    tell('done');
  },
  look: () => look(openShelf()),
  /** A phone with a check or a change of which only the last button is left to press. */
  async halfDone(kind: 'check' | 'change') {
    await halfDone(await Notebook.open(await emptied(), realDevice, SILENT), kind);
  },
};

declare global {
  var killTest: typeof tools;
}
globalThis.killTest = tools;
