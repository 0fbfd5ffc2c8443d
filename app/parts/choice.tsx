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
 * keyboard, switches and screen readers work as everywhere else. The words are
 * hidden from screen readers, which have them as the name of the button: there
 * each answer is one thing to come by, not two or three.
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
      aria-label={legend}
      aria-describedby={error && `${name}-error`}
      aria-invalid={error && !many ? true : undefined}
    >
      {error && <Complaint id={`${name}-error`} text={error} />}
      {choices.map((choice) => (
        <label class="choice" key={choice.value}>
          <input
            type={many ? 'checkbox' : 'radio'}
            name={name}
            value={choice.value}
            checked={chosen.includes(choice.value)}
            aria-labelledby={`${name}-${choice.value}`}
            aria-describedby={choice.hint ? `${name}-${choice.value}-hint` : undefined}
            onChange={(event) => pick(choice.value, event.currentTarget.checked)}
          />
          <span class="choice-sign" aria-hidden="true" />
          <span class="choice-words" aria-hidden="true">
            <span class="choice-label" id={`${name}-${choice.value}`}>
              {choice.label}
            </span>
            {choice.hint && (
              <span class="choice-hint" id={`${name}-${choice.value}-hint`}>
                {choice.hint}
              </span>
            )}
          </span>
        </label>
      ))}
    </fieldset>
  );
}
