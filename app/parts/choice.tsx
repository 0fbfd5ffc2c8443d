import { useId } from 'preact/hooks';
import { Complaint } from './complaint.tsx';

export interface Choice {
  value: string;
  label: string;
  hint?: string | undefined;
}

interface Props {
  legend: string;
  choices: readonly Choice[];
  chosen: readonly string[];
  /** Several may be chosen. */
  many?: boolean;
  /** What is wrong with the answer, as a sentence that says what to do. */
  error?: string | undefined;
  onChange: (chosen: string[]) => void;
}

/**
 * Answers as large cards. They are real radio buttons or check boxes, so the
 * keyboard, switches and screen readers work as everywhere else.
 */
export function Choices({ legend, choices, chosen, many, error, onChange }: Props) {
  const name = useId();
  const pick = (value: string, on: boolean) => {
    if (!many) return onChange([value]);
    onChange(on ? [...chosen, value] : chosen.filter((c) => c !== value));
  };
  return (
    <fieldset
      class="choices"
      role={many ? undefined : 'radiogroup'}
      aria-describedby={error && `${name}-error`}
      aria-invalid={error && !many ? true : undefined}
    >
      <legend class="unseen">{legend}</legend>
      {error && <Complaint id={`${name}-error`} text={error} />}
      {choices.map((choice) => (
        <label class="choice" key={choice.value}>
          <input
            type={many ? 'checkbox' : 'radio'}
            name={name}
            value={choice.value}
            checked={chosen.includes(choice.value)}
            // A group of check boxes cannot be wrong, only they themselves can.
            aria-invalid={error && many ? true : undefined}
            aria-describedby={choice.hint ? `${name}-${choice.value}` : undefined}
            onChange={(event) => pick(choice.value, event.currentTarget.checked)}
          />
          <span class="choice-sign" aria-hidden="true" />
          <span class="choice-words">
            <span class="choice-label">{choice.label}</span>
            {choice.hint && (
              <span class="choice-hint" id={`${name}-${choice.value}`}>
                {choice.hint}
              </span>
            )}
          </span>
        </label>
      ))}
    </fieldset>
  );
}
