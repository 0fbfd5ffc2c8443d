import { useId } from 'preact/hooks';

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
  onChange: (chosen: string[]) => void;
}

/**
 * Answers as large cards. They are real radio buttons or check boxes, so the
 * keyboard, switches and screen readers work as everywhere else.
 */
export function Choices({ legend, choices, chosen, many, onChange }: Props) {
  const name = useId();
  const pick = (value: string, on: boolean) => {
    if (!many) return onChange([value]);
    onChange(on ? [...chosen, value] : chosen.filter((c) => c !== value));
  };
  return (
    <fieldset class="choices">
      <legend class="unseen">{legend}</legend>
      {choices.map((choice) => (
        <label class="choice" key={choice.value}>
          <input
            type={many ? 'checkbox' : 'radio'}
            name={name}
            value={choice.value}
            checked={chosen.includes(choice.value)}
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
