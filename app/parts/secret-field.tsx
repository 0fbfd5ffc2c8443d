import { useId } from 'preact/hooks';

interface Props {
  label: string;
  hint?: string;
  value: string;
  /** Whether the letters show. */
  shown: boolean;
  error?: string | undefined;
  /** A new one is being chosen, so that the browser offers none that it knows. */
  isNew?: boolean;
  onChange: (text: string) => void;
}

/** A passcode or passphrase, hidden unless the person wants to see it: tired eyes and numb fingers mistype. */
export function SecretField({ label, hint, value, shown, error, isNew, onChange }: Props) {
  const id = useId();
  const own = {
    id,
    autocomplete: isNew ? 'new-password' : 'current-password',
    autocapitalize: 'none' as const,
    spellcheck: false,
    value,
    'aria-describedby': `${hint ? `${id}-hint ` : ''}${error ? `${id}-error` : ''}`.trim() || undefined,
    'aria-invalid': error ? ('true' as const) : undefined,
    onInput: (event: { currentTarget: HTMLInputElement }) => onChange(event.currentTarget.value),
  };
  return (
    <div class={`field ${error ? 'field-wrong' : ''}`}>
      <label for={id}>{label}</label>
      {hint && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {shown ? <input type="text" {...own} /> : <input type="password" {...own} />}
      {error && (
        <p class="error" id={`${id}-error`} role="alert">
          {error}
        </p>
      )}
    </div>
  );
}

/** Shows the letters of what is typed on the page, for whoever types with care and alone. */
export function ShowLetters({ label, shown, onChange }: { label: string; shown: boolean; onChange: (shown: boolean) => void }) {
  return (
    <label class="show-letters">
      <input type="checkbox" checked={shown} onChange={(event) => onChange(event.currentTarget.checked)} />
      <span>{label}</span>
    </label>
  );
}
