import { render } from '@testing-library/preact';
import { userEvent } from '@testing-library/user-event';
import { useState } from 'preact/hooks';
import type { GlucoseUnit, TemperatureUnit } from '../../app/care/check/answers.ts';
import { type QuestionId, question } from '../../app/care/check/questions.ts';
import { QuestionFields } from '../../app/parts/question.tsx';
import { AREAS, loadAreas, words } from '../../app/words/i18n.ts';

export async function loadEnglish(): Promise<void> {
  await words.changeLanguage('en');
  await loadAreas(AREAS);
}

interface Options {
  answer?: unknown;
  complain?: boolean;
  units?: { temperature: TemperatureUnit; glucose: GlucoseUnit };
  warmthSites?: string[];
  dry?: boolean;
}

/** A question on a screen that keeps its answer as the check does. `given()` is the answer as it now stands. */
export function ask(id: QuestionId, { answer, complain = false, units, warmthSites, dry = false }: Options = {}) {
  const answers: unknown[] = [answer];
  function Screen() {
    const [now, setNow] = useState(answer);
    return (
      <QuestionFields
        question={question(id)}
        answer={now}
        units={units ?? { temperature: 'Cel', glucose: 'mg/dL' }}
        warmthSites={warmthSites}
        dry={dry}
        complain={complain}
        onAnswer={(given) => {
          answers.push(given);
          setNow(given);
        }}
      />
    );
  }
  render(<Screen />);
  return { user: userEvent.setup(), given: () => answers.at(-1) };
}
