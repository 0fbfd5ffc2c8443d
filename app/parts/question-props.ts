import type { GlucoseUnit, TemperatureUnit } from '../care/check/answers.ts';
import type { Question } from '../care/check/questions.ts';

/** What every kind of question takes. */
export interface QuestionProps {
  question: Question;
  answer: unknown;
  onAnswer: (answer: unknown) => void;
  /** Whether something is typed that cannot be read: it must not be passed over in silence. */
  onUnclear?: (unclear: boolean) => void;
  /** Whether the page asks something else now than its question does: a feeling in place of a number. Who takes it gives the page its heading. */
  onFelt?: (felt: boolean) => void;
  units: { temperature: TemperatureUnit; glucose: GlucoseUnit };
  /** Matching places to measure on both feet, if the plan asks for it. */
  warmthSites?: readonly string[] | undefined;
  /** The wound must stay dry: it is neither rinsed nor wetted, and it may be black as before. */
  dry?: boolean;
  /** Shown when the person wants to go on without a complete answer. */
  complain: boolean;
  /** What was complained of is asked no more; the complaint is over. */
  onCalm?: () => void;
}
