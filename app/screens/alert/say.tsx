import { useEffect, useState } from 'preact/hooks';
import { sortAnswers } from '../../care/check/items.ts';
import { answersForWound } from '../../care/log/history.ts';
import type { AlertRecord, CheckRecord } from '../../care/log/records.ts';
import { standingOne } from '../../care/log/timeline.ts';
import type { ChangeDraft } from '../../store/drafts.ts';
import type { NotebookState } from '../../store/notebook.ts';
import { phoneLines } from '../../words/answers.ts';
import { inARow, languageName } from '../../words/format.ts';
import { directionOf, inLanguage, LANGUAGES, type Language, loadAreas, t, words } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook } from '../context.ts';

/** The facts entered, short enough to read out on the phone; in the clinic's language too, where that is another one. */
export function SayOnThePhone({ alert }: { alert: AlertRecord }) {
  const { state, book } = useBook();
  const { plan } = book;
  const theirs = useClinicWords(plan.person.language);
  const own = words.language;
  return (
    <section>
      <h2>{t('alert:say')}</h2>
      <Lines lines={linesOf(state, alert)} />
      {theirs && (
        <div lang={theirs} dir={directionOf(theirs)}>
          <h3>{LANGUAGES[theirs]}</h3>
          <Lines lines={inLanguage(theirs, () => [t('alert:interpreter', { language: languageName(own) }), ...linesOf(state, alert)])} />
        </div>
      )}
    </section>
  );
}

const Lines = ({ lines }: { lines: readonly string[] }) => (
  <ul class="facts">
    {[...new Set(lines)].map((line) => (
      <li key={line}>{line}</li>
    ))}
  </ul>
);

/** The language of the plan, once its words are here; undefined where it is the app's own or one that the app does not speak. */
function useClinicWords(language: string): Language | undefined {
  const theirs = language.toLowerCase().split('-')[0] as Language;
  const [ready, setReady] = useState(false);
  const isOther = theirs !== words.language && Object.hasOwn(LANGUAGES, theirs);
  useEffect(() => {
    if (isOther)
      void loadAreas(['common', 'alert', 'check'], theirs).then(
        () => setReady(true),
        () => undefined,
      );
  }, [isOther, theirs]);
  return isOther && ready ? theirs : undefined;
}

function linesOf({ entries, checkDraft, changeDraft, book }: NotebookState, alert: AlertRecord): string[] {
  if (!book) return [];
  const { wounds, person } = book.plan;
  const change = standingOne(entries, 'change', alert.from);
  const draft: ChangeDraft | undefined = changeDraft?.id === alert.from ? changeDraft : undefined;
  const seen = change ?? draft;
  // A grave answer calls before the check is written down.
  const asked = checkDraft?.id === alert.from ? (sortAnswers(book.plan, checkDraft.answers) as CheckRecord) : undefined;
  const base = standingOne(entries, 'check', alert.from) ?? standingOne(entries, 'check', seen?.check) ?? asked;
  const answers = wounds.map((w) => [w.id, { ...(base ? answersForWound(base, w) : {}), ...(seen?.wound === w.id ? seen.answers : {}) }]);
  return [
    t('alert:sayWho', { name: person.callMe, count: wounds.length }),
    t('alert:sayWound', { where: inARow(wounds.map(woundName), ';') }),
    ...phoneLines(book.plan, Object.fromEntries(answers)),
  ];
}
