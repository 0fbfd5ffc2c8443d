import type { ComponentChildren } from 'preact';
import { useEffect, useId, useState } from 'preact/hooks';
import { formatNumber, parseNumber } from '../words/format.ts';

/** A value and what it is called. */
export type Option = readonly [value: string, label: string];

interface Base {
  label: string;
  hint?: string | undefined;
  wide?: boolean;
}

function Field({ label, hint, wide, id, children }: Base & { id: string; children: ComponentChildren }) {
  return (
    <div class={wide ? 'f f-wide' : 'f'}>
      <label for={id}>{label}</label>
      {children}
      {hint && (
        <p class="f-hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
    </div>
  );
}

const describedBy = (id: string, hint: string | undefined) => (hint ? `${id}-hint` : undefined);

interface TextProps extends Base {
  value: string;
  onChange: (text: string) => void;
  type?: 'text' | 'tel' | 'date' | 'time' | 'password' | 'datetime-local';
  most?: number;
  /** Its path in the plan, for what leads to it. */
  field?: string | undefined;
  /** What is wrong with it, as a sentence that says what to do. */
  error?: string | undefined;
}

/** Words go their own way; phone numbers from left to right, as everywhere. */
const DIRECTION_OF: { [type in NonNullable<TextProps['type']>]?: 'auto' | 'ltr' } = { text: 'auto', tel: 'ltr' };

/** One line of words, a date or a time. */
export function TextBox({ value, onChange, type = 'text', most = 200, field, error, ...base }: TextProps) {
  const id = useId();
  // A union of types is none of the single ones that the element's own type tells apart.
  const kind = { type } as { type: 'text' };
  return (
    <Field {...base} id={id}>
      <input
        {...kind}
        id={id}
        data-field={field}
        dir={DIRECTION_OF[type]}
        value={value}
        maxLength={most}
        autocomplete="off"
        aria-invalid={error ? true : undefined}
        aria-describedby={error ? `${id}-error` : describedBy(id, base.hint)}
        onInput={(event) => onChange(event.currentTarget.value)}
      />
      {error && (
        <p class="error" id={`${id}-error`} role="alert">
          {error}
        </p>
      )}
    </Field>
  );
}

interface NumberProps extends Base {
  value: number | undefined;
  unit?: string;
  onChange: (value: number | undefined) => void;
}

/** A number. What was typed stays as typed; what is no number is undefined. */
export function NumberBox({ value, unit, onChange, ...base }: NumberProps) {
  const id = useId();
  const shown = value === undefined ? '' : formatNumber(value, 2);
  const [text, setText] = useState(shown);
  useEffect(() => {
    // A value from elsewhere, an earlier plan for instance, takes the place of what was typed.
    if (parseNumber(text) !== value) setText(shown);
  }, [value]);
  return (
    <Field {...base} id={id}>
      <span class="f-number">
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autocomplete="off"
          dir="ltr"
          value={text}
          aria-describedby={describedBy(id, base.hint)}
          onInput={(event) => {
            setText(event.currentTarget.value);
            onChange(parseNumber(event.currentTarget.value));
          }}
        />
        {unit && <bdi>{unit}</bdi>}
      </span>
    </Field>
  );
}

interface PickProps extends Base {
  value: string;
  /** Its path in the plan, for what leads to it. */
  field?: string | undefined;
  options: readonly Option[];
  onChange: (value: string) => void;
}

/** One of many, as a list that opens. */
export function Pick({ value, options, onChange, field, ...base }: PickProps) {
  const id = useId();
  return (
    <Field {...base} id={id}>
      <select
        id={id}
        data-field={field}
        value={value}
        aria-describedby={describedBy(id, base.hint)}
        onChange={(event) => onChange(event.currentTarget.value)}
      >
        {options.map(([v, label]) => (
          <option key={v} value={v}>
            {label}
          </option>
        ))}
      </select>
    </Field>
  );
}

interface LinesProps extends Base {
  value: readonly string[];
  onChange: (lines: string[]) => void;
  rows?: number;
}

/** Several short texts, one a line. */
export function Lines({ value, onChange, rows = 2, ...base }: LinesProps) {
  const id = useId();
  const [text, setText] = useState(value.join('\n'));
  const read = (typed: string): string[] =>
    typed
      .split('\n')
      .map((line) => line.trim())
      .filter((line) => line !== '');
  useEffect(() => {
    if (read(text).join('\n') !== value.join('\n')) setText(value.join('\n'));
  }, [value]);
  return (
    <Field {...base} id={id}>
      <textarea
        id={id}
        rows={rows}
        dir="auto"
        value={text}
        aria-describedby={describedBy(id, base.hint)}
        onInput={(event) => {
          setText(event.currentTarget.value);
          onChange(read(event.currentTarget.value));
        }}
      />
    </Field>
  );
}

interface GroupProps {
  legend: string;
  options: readonly Option[];
  hint?: string | undefined;
  /** The legend is for ears only, because a heading says it. */
  quiet?: boolean;
}

/** One of a few, all in sight. A second press on the chosen one takes it back where that is allowed. */
export function OneOf(props: GroupProps & { chosen: string | undefined; onChange: (value: string) => void }) {
  const name = useId();
  return (
    <fieldset class="pills">
      <legend class={props.quiet ? 'unseen' : undefined}>{props.legend}</legend>
      {props.options.map(([value, label]) => (
        <label class="pill" key={value}>
          <input type="radio" name={name} value={value} checked={props.chosen === value} onChange={() => props.onChange(value)} />
          <span>{label}</span>
        </label>
      ))}
      {props.hint && <p class="f-hint">{props.hint}</p>}
    </fieldset>
  );
}

/** Any of a few, all in sight. They stay in the order of the list. */
export function Ticks(props: GroupProps & { chosen: readonly string[]; onChange: (chosen: string[]) => void }) {
  const set = (value: string, on: boolean) =>
    props.onChange(props.options.map(([v]) => v).filter((v) => (v === value ? on : props.chosen.includes(v))));
  return (
    <fieldset class="pills">
      <legend class={props.quiet ? 'unseen' : undefined}>{props.legend}</legend>
      {props.options.map(([value, label]) => (
        <label class="pill pill-tick" key={value}>
          <input
            type="checkbox"
            value={value}
            checked={props.chosen.includes(value)}
            onChange={(event) => set(value, event.currentTarget.checked)}
          />
          <span>{label}</span>
        </label>
      ))}
      {props.hint && <p class="f-hint">{props.hint}</p>}
    </fieldset>
  );
}

/** One thing that is so or not. */
export function Tick({ label, checked, onChange }: { label: string; checked: boolean; onChange: (on: boolean) => void }) {
  return (
    <label class="pill pill-tick">
      <input type="checkbox" checked={checked} onChange={(event) => onChange(event.currentTarget.checked)} />
      <span>{label}</span>
    </label>
  );
}

/** A numbered part of the form. */
export function Section({ id, number, title, children }: { id: string; number: number; title: string; children: ComponentChildren }) {
  return (
    <section class="part" id={id} aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`}>
        <span class="part-number" aria-hidden="true">
          {number}
        </span>
        {title}
      </h2>
      {children}
    </section>
  );
}
