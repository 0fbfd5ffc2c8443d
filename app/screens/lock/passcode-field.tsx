import { useId, useState } from 'preact/hooks';
import { t } from '../../words/i18n.ts';

interface Props {
  label: string;
  hint?: string;
  value: string;
  error?: string | undefined;
  /** For the browser's own keeper of passwords. */
  kind: 'current-password' | 'new-password';
  onChange: (value: string) => void;
}

/** A passcode, hidden unless the person wants to see it: tired eyes and numb fingers mistype. */
export function PasscodeField({ label, hint, value, error, kind, onChange }: Props) {
  const id = useId();
  const [shown, setShown] = useState(false);
  return (
    <div class={`field ${error ? 'field-wrong' : ''}`}>
      <label for={id}>{label}</label>
      {hint && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <input
        id={id}
        // The types know either kind of field, not one that changes.
        type={(shown ? 'text' : 'password') as 'password'}
        autocomplete={kind}
        autocapitalize="none"
        spellcheck={false}
        value={value}
        aria-describedby={`${hint ? `${id}-hint ` : ''}${error ? `${id}-error` : ''}`.trim() || undefined}
        aria-invalid={error ? 'true' : undefined}
        onInput={(event) => onChange(event.currentTarget.value)}
      />
      <label class="choice show-passcode">
        <input type="checkbox" checked={shown} onChange={(event) => setShown(event.currentTarget.checked)} />
        <span class="choice-sign" aria-hidden="true" />
        <span class="choice-words">{t('lock:show')}</span>
      </label>
      {error && (
        <p class="error" id={`${id}-error`} role="alert">
          {error}
        </p>
      )}
    </div>
  );
}
