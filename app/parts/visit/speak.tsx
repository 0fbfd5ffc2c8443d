import { type ComponentChildren, createContext, Fragment } from 'preact';
import { useContext } from 'preact/hooks';
import { type Area, directionOf, inLanguage, spoken } from '../../words/i18n.ts';

/** The words that a visit page needs, in each language it stands in. */
export const VISIT_AREAS: readonly Area[] = ['common', 'check', 'alert', 'rules', 'chart', 'visit'];

/** The language the texts below are in; the app's own where there is none. */
const Spoken = createContext<string | undefined>(undefined);
/** The second language of the page, if it has one. */
export const Second = createContext<string | undefined>(undefined);

/**
 * Says something in the language of its place on the page. Only what is said
 * within the call is in it, so components inside must be given their texts.
 */
export function useSay(): <T>(make: () => T) => T {
  const language = useContext(Spoken);
  return (make) => (language === undefined ? make() : inLanguage(language, make));
}

interface PartProps {
  /** For styles and tests. */
  name: string;
  title: () => string;
  /** Level of the heading. */
  level?: 2 | 3;
  /** Drawn once for each language. Its texts must be said through `useSay`. */
  children?: ComponentChildren;
  /** Drawn once, whatever the languages: pictures, and the person's own words. */
  once?: ComponentChildren;
}

/** A part of the page: in one language, or in two side by side. */
export function Part({ name, title, level = 2, children, once }: PartProps) {
  const second = useContext(Second);
  const Heading = level === 2 ? 'h2' : 'h3';
  const say = (
    <>
      <Said text={title} as={Heading} />
      {children}
    </>
  );
  return (
    <section class={`visit-part visit-${name} ${second ? 'visit-two' : ''}`}>
      {second ? (
        <>
          <div lang={spoken()}>{say}</div>
          <Spoken.Provider value={second}>
            <div lang={second} dir={directionOf(second)}>
              {say}
            </div>
          </Spoken.Provider>
        </>
      ) : (
        say
      )}
      {once && <div class="visit-once">{once}</div>}
    </section>
  );
}

/** One text, in the language of its place. */
export function Said({ text, as: As = Fragment }: { text: () => string; as?: 'h2' | 'h3' | 'p' | typeof Fragment }) {
  return <As>{useSay()(text)}</As>;
}

export interface FactRow {
  label: string;
  /** Several things found stand one below the other, on paper one after the other. */
  value: string | readonly string[];
  /** Stands out: somebody should look at it. */
  strong?: boolean;
}

/** Facts, a line each: what it is, and what was found. */
export function Facts({ rows }: { rows: readonly (FactRow | undefined)[] }) {
  return (
    <dl class="visit-facts">
      {rows.map(
        (row) =>
          row && (
            <div
              key={row.label}
              class={[row.strong && 'visit-strong', typeof row.value !== 'string' && 'visit-many'].filter(Boolean).join(' ')}
            >
              <dt>{row.label}</dt>
              <dd>{typeof row.value === 'string' ? row.value : row.value.map((piece) => <span key={piece}>{piece}</span>)}</dd>
            </div>
          ),
      )}
    </dl>
  );
}
