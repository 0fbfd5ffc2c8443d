// @vitest-environment happy-dom
import { cleanup, render, screen } from '@testing-library/preact';
import userEvent from '@testing-library/user-event';
import { useState } from 'preact/hooks';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { question } from '../../app/care/check/questions.ts';
import { QuestionFields } from '../../app/parts/question.tsx';
import { AREAS, loadAreas, t, words } from '../../app/words/i18n.ts';

beforeAll(async () => {
  await words.changeLanguage('en');
  await loadAreas(AREAS);
});
afterEach(cleanup);

let last: unknown;
let unclear = false;

function Ask({ id, sites }: { id: string; sites?: string[] }) {
  const [answer, setAnswer] = useState<unknown>();
  return (
    <QuestionFields
      question={question(id)}
      answer={answer}
      units={{ temperature: 'Cel', glucose: 'mg/dL' }}
      warmthSites={sites}
      complain={false}
      onUnclear={(is) => {
        unclear = is;
      }}
      onAnswer={(given) => {
        last = given;
        setAnswer(given);
      }}
    />
  );
}

describe('what is typed and cannot be read is never passed over', () => {
  test('a blood sugar of 15 in the wrong unit holds the page', async () => {
    render(<Ask id="glucose" />);
    await userEvent.type(screen.getByLabelText(t('check:glucose.field')), '15');
    expect(last).toBeUndefined();
    expect(unclear).toBe(true);
    await userEvent.click(screen.getByLabelText('mmol/L'));
    expect(last).toEqual({ value: 15, unit: 'mmol/L' });
    expect(unclear).toBe(false);
  });

  test('half a pair of skin readings holds the page', async () => {
    render(<Ask id="warmth" sites={['heel']} />);
    await userEvent.type(screen.getByLabelText(t('check:warmth.woundSide')), '33.1');
    expect(unclear).toBe(true);
  });

  test('readings typed before the feel is chosen are kept', async () => {
    render(<Ask id="warmth" sites={['heel']} />);
    await userEvent.type(screen.getByLabelText(t('check:warmth.woundSide')), '33.1');
    await userEvent.type(screen.getByLabelText(t('check:warmth.otherSide')), '30.2');
    await userEvent.click(screen.getByLabelText(t('check:warmth.code.same')));
    expect(last).toEqual({ pairs: [{ site: 'heel', woundSide: 33.1, otherSide: 30.2 }], feel: 'same' });
    expect(unclear).toBe(false);
  });
});
