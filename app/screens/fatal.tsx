import { FALLBACK_NUMBERS } from '../care/plan/emergency-numbers.ts';
import { NewerShelfError } from '../store/shelf.ts';
import { hasWords, t } from '../words/i18n.ts';

/**
 * When the app cannot go on: what happened, what to do, and a number to call.
 * It has to work without words loaded, so it carries English of its own.
 */
export function FatalScreen({ error }: { error: unknown }) {
  const newer = error instanceof NewerShelfError;
  const say = (key: string, english: string): string => (hasWords(key) ? t(key) : english);
  return (
    <div class="page">
      <main class="main">
        <h1>{say('common:fatal.title', 'Tendbook could not open')}</h1>
        <p class="lead">
          {newer
            ? say('common:fatal.newer', 'A newer version of Tendbook wrote your book. Close every Tendbook window, then open it again.')
            : say('common:fatal.text', 'Nothing you wrote is lost. Close the app, then open it again.')}
        </p>
        <button type="button" class="button button-main" onClick={() => location.reload()}>
          {say('common:fatal.again', 'Try again')}
        </button>
        <p>{say('common:fatal.help', 'If you are very unwell, call your local emergency number now.')}</p>
        <div class="stack">
          {FALLBACK_NUMBERS.map((n) => (
            <a key={n} class="button button-grave" href={`tel:${n}`}>
              {n}
            </a>
          ))}
        </div>
      </main>
    </div>
  );
}
