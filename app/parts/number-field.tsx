import { useId } from 'preact/hooks';

interface Props {
  label: string;
  hint?: string;
  value: string;
  unit: string;
  /** A message that says what to do, or undefined when all is well. */
  error?: string | undefined;
  onChange: (text: string) => void;
}

/** A number with its unit. The keyboard that opens has digits and a decimal sign; digits go from left to right in every language. */
export function NumberField({ label, hint, value, unit, error, onChange }: Props) {
  const id = useId();
  return (
    <div class={`field ${error ? 'field-wrong' : ''}`}>
      <label for={id}>{label}</label>
      {hint && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <div class="number">
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autocomplete="off"
          dir="ltr"
          value={value}
          // The unit too: a number means nothing without it.
          aria-describedby={[unit && `${id}-unit`, hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(' ') || undefined}
          aria-invalid={error ? 'true' : undefined}
          onInput={(event) => onChange(event.currentTarget.value)}
        />
        <bdi class="unit" id={`${id}-unit`}>
          {unit}
        </bdi>
      </div>
      {error && (
        <p class="error" id={`${id}-error`} role="alert">
          {error}
        </p>
      )}
    </div>
  );
}

interface WordsProps {
  label: string;
  /** For a page whose title asks the same. */
  labelUnseen?: boolean;
  hint?: string;
  value: string;
  rows?: number;
  most?: number;
  onChange: (text: string) => void;
}

/** Free words. They are only ever shown as text. */
export function WordsField({ label, labelUnseen, hint, value, rows = 4, most = 2000, onChange }: WordsProps) {
  const id = useId();
  return (
    <div class="field">
      <label for={id} class={labelUnseen ? 'unseen' : undefined}>
        {label}
      </label>
      {hint && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <textarea
        id={id}
        rows={rows}
        dir="auto"
        maxLength={most}
        value={value}
        aria-describedby={hint ? `${id}-hint` : undefined}
        onInput={(event) => onChange(event.currentTarget.value)}
      />
    </div>
  );
}
