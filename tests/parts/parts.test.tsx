// @vitest-environment happy-dom
import { cleanup, render, screen } from '@testing-library/preact';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { LEVELS, type Outcome } from '../../app/care/escalation/levels.ts';
import { RULE_IDS } from '../../app/care/escalation/rule-levels.ts';
import type { LoggedRule } from '../../app/care/log/records.ts';
import { CallButton } from '../../app/parts/call-button.tsx';
import { LevelMark, LevelWord } from '../../app/parts/level.tsx';
import { Page } from '../../app/parts/page.tsx';
import { Reasons } from '../../app/parts/reasons.tsx';
import { t } from '../../app/words/i18n.ts';
import { loadEnglish } from './ask.tsx';

beforeAll(loadEnglish);
afterEach(cleanup);

const ALL: Outcome[] = [...LEVELS, 'unfinished'];
const shapeOf = (level: Outcome): string => render(<LevelMark level={level} />).container.innerHTML.replaceAll(`mark-${level}`, '');

describe('the mark of a level', () => {
  test('has a shape of its own for each level, so that colour is never all that tells them apart', () => {
    const shapes = ALL.filter((l) => l !== 'carryOn').map(shapeOf);
    expect(new Set(shapes).size).toBe(shapes.length);
    for (const shape of shapes) expect(shape).toContain('<svg');
  });

  test('is nothing at all for carrying on: no tick that could be read as all clear', () => {
    expect(shapeOf('carryOn')).toBe('');
  });

  test('is hidden from screen readers, for a word stands beside it', () => {
    for (const level of ALL.filter((l) => l !== 'carryOn')) {
      const { container } = render(<LevelMark level={level} />);
      expect(container.querySelector('svg')?.getAttribute('aria-hidden')).toBe('true');
    }
  });

  test('each level has a word, and no two the same', () => {
    const words = ALL.map((level) => render(<LevelWord level={level} />).container.textContent);
    expect(new Set(words).size).toBe(ALL.length);
    for (const [i, level] of ALL.entries()) expect(words[i]).toBe(t(`alert:short.${level}`));
  });
});

describe('the call button', () => {
  test.each([
    ['+1 312 555 0142', 'tel:+13125550142'],
    ['911', 'tel:911'],
    ['+44 (0)20 7946 0018', 'tel:+442079460018'],
  ])('%s leads to %s and shows the number as written', (phone, href) => {
    render(<CallButton phone={phone} label="Call the clinic" />);
    const link = screen.getByRole('link', { name: /Call the clinic/ });
    expect(link.getAttribute('href')).toBe(href);
    expect(link.textContent).toContain(phone);
  });
});

describe('reasons', () => {
  const rule = (id: string, more: Partial<LoggedRule> = {}): LoggedRule => ({ rule: id, level: 'callToday', findings: [], ...more });

  test('each rule that fired is one line of words, in the order it was given', () => {
    render(<Reasons fired={[rule('fever', { level: 'callNow' }), rule('darker-patch')]} />);
    const lines = screen.getAllByRole('listitem').map((li) => li.textContent);
    expect(lines).toEqual([t('rules:fever.plain'), t('rules:darker-patch.plain')]);
  });

  test('two firings that read the same are one line', () => {
    render(<Reasons fired={[rule('darker-patch', { wounds: ['w1'] }), rule('darker-patch', { wounds: ['w2'] })]} />);
    expect(screen.getAllByRole('listitem')).toHaveLength(1);
  });

  test('no rule is shown as its code: each has words', () => {
    for (const id of RULE_IDS) {
      const params = { count: 2, places: 'heel', questions: 'pain', rule: 'fever' };
      const { container } = render(<Reasons fired={[rule(id, { findings: ['pain:more'], params })]} />);
      const text = container.textContent ?? '';
      expect(text.length).toBeGreaterThan(8);
      expect(text).not.toContain('rules:');
      expect(text).not.toContain('{{');
      cleanup();
    }
  });

  test('words of a plan in a reason stay words', () => {
    const { container } = render(<Reasons fired={[rule('warm-two-days', { params: { places: '<img src=x>' } })]} />);
    expect(container.querySelector('img')).toBeNull();
    expect(container.textContent).toContain('<img src=x>');
  });
});

describe('a page', () => {
  test('has its title as the one heading, takes the focus there, and names the window', () => {
    render(<Page title="Look at the wound" />);
    const heading = screen.getByRole('heading', { level: 1, name: 'Look at the wound' });
    expect(document.activeElement).toBe(heading);
    expect(document.title).toContain('Look at the wound');
  });

  test('has a way to help, but on the help page itself', () => {
    render(<Page title="x" />);
    expect(screen.getByRole('link', { name: t('common:helpNow') }).getAttribute('href')).toBe('#/help');
    cleanup();
    render(<Page title="x" noHelp />);
    expect(screen.queryByRole('link', { name: t('common:helpNow') })).toBeNull();
  });

  test('has a way back only where there is one', () => {
    let went = 0;
    render(<Page title="x" back={() => went++} />);
    screen.getByRole('button', { name: t('common:back') }).click();
    expect(went).toBe(1);
    cleanup();
    render(<Page title="x" />);
    expect(screen.queryByRole('button')).toBeNull();
  });
});
