import type { Entry } from '../../care/log/timeline.ts';
import type { LocalDay } from '../../care/schedule/day.ts';
import type { ExportWords } from '../../exchange/fhir/context.ts';
import type { ChosenPhoto } from '../../exchange/fhir/media.ts';
import { fileName } from '../../exchange/file-name.ts';
import type { Period } from '../../exchange/period.ts';
import { askText } from '../../parts/choices-of.ts';
import type { Book } from '../../store/book.ts';
import type { Notebook } from '../../store/notebook.ts';
import { answerText } from '../../words/answers.ts';
import { withoutMarks } from '../../words/bidi.ts';
import { t, words } from '../../words/i18n.ts';
import { dressingName, woundName } from '../../words/names.ts';
import { reasonText } from '../../words/reasons.ts';
import { stepMeans } from '../../words/steps.ts';
import { bookToSend } from '../send-book.ts';
import type { HandFile } from '../share-file.ts';

/** What the person chose to hand over. */
export interface Chosen {
  notebook: Notebook;
  book: Book;
  /** The whole log. */
  entries: readonly Entry[];
  period: Period;
  photos: ReadonlyMap<string, ChosenPhoto>;
  /** ms. */
  now: number;
  today: LocalDay;
}

/** The same log as one file to save, and as files that a share sheet is more likely to take. */
export interface Made {
  toSave: HandFile;
  toSend: readonly HandFile[];
}

/** A form in which the log can be handed over. */
interface AnyWay {
  /** Its words are `handOver:way.<id>` and `handOver:about.<id>`. */
  id: string;
  /** Whether photos can go along; they are chosen one by one. */
  takesPhotos: boolean;
  /** Whether it says the person's own name as the writer of entries. */
  namesPatient: boolean;
  /** Whether what cannot be read goes along as it is. */
  takesUnreadable: boolean;
}

export interface FileWay extends AnyWay {
  make: (chosen: Chosen) => Promise<Made>;
}

/** Shown on the screen, to be scanned. */
export interface CodesWay extends AnyWay {
  make?: undefined;
}
export type Way = FileWay | CodesWay;

/** The same words without the marks of direction that only a page needs: a record is searched and compared. */
const plain =
  <A extends unknown[], S extends string | undefined>(say: (...given: A) => S) =>
  (...given: A): S => {
    const said = say(...given);
    return (said && withoutMarks(said)) as S;
  };

/** The words of the app, in the language it speaks; sizes in cm as clinics write them. */
export const EXPORT_WORDS: ExportWords = {
  say: plain(t),
  ask: plain(askText),
  answer: plain(answerText),
  reason: plain(reasonText),
  wound: plain(woundName),
  dressing: plain((dressing) => dressingName(dressing, 'cm')),
  means: plain(stepMeans),
};

/** Every way, in the order in which they are offered. What a way needs is loaded when its file is made. */
export const WAYS: readonly Way[] = [
  {
    id: 'desk',
    takesPhotos: true,
    namesPatient: true,
    takesUnreadable: true,
    make: async ({ notebook, book, period, photos, today }) => {
      const { writeBookFile } = await import('../../exchange/book-file.ts');
      const blobs = new Map([...photos].map(([id, { type, bytes }]) => [id, new Blob([bytes], { type })]));
      const content = await writeBookFile(await bookToSend(notebook, period.from), blobs);
      // Every share sheet takes a text.
      const toSave = { name: fileName('log-clinic', book.plan.person.callMe, today, 'txt'), type: 'text/plain', content };
      return { toSave, toSend: [toSave] };
    },
  },
  { id: 'codes', takesPhotos: false, namesPatient: true, takesUnreadable: true },
  {
    id: 'system',
    takesPhotos: true,
    namesPatient: false,
    takesUnreadable: false,
    make: async ({ book, entries, period, photos, now, today }) => {
      const { fhirFile } = await import('../../exchange/fhir/bundle.ts');
      const content = fhirFile({
        plan: book.plan,
        earlierPlans: book.earlierPlans,
        entries,
        period,
        photos,
        words: EXPORT_WORDS,
        language: words.language,
        now,
      });
      // It names no one, and so does its name.
      const toSave = { name: fileName('log-record', undefined, today, 'json'), type: 'application/fhir+json', content };
      // No share sheet knows the type of FHIR; some take plain JSON.
      return { toSave, toSend: [{ ...toSave, type: 'application/json' }] };
    },
  },
  {
    id: 'tables',
    takesPhotos: false,
    namesPatient: true,
    takesUnreadable: false,
    make: async ({ book, entries, period, today }) => {
      const [{ csvFiles }, { zipTexts }] = await Promise.all([import('../../exchange/csv-tables.ts'), import('../../exchange/zip.ts')]);
      const files = csvFiles({ plans: [book.plan, ...[...book.earlierPlans].reverse()], entries, period });
      return {
        toSave: { name: fileName('log-tables', book.plan.person.callMe, today, 'zip'), type: 'application/zip', content: zipTexts(files) },
        toSend: files.map(({ name, text }) => ({ name, type: 'text/csv', content: text })),
      };
    },
  },
];
