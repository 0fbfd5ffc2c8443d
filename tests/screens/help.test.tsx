// @vitest-environment happy-dom
import { cleanup, screen, within } from '@testing-library/preact';
import { afterEach, expect, test } from 'vitest';
import { HelpScreen } from '../../app/screens/help/help.tsx';
import { t } from '../../app/words/i18n.ts';
import { SATURDAY, stage, TUESDAY } from './stage.tsx';

afterEach(cleanup);

const numbers = (): (string | null)[] =>
  screen
    .getAllByRole('link')
    .map((a) => a.getAttribute('href'))
    .filter((href) => href?.startsWith('tel:') ?? false);

test('the emergency number is first, then the phone of the clinic that is answered now', async () => {
  const day = await stage({ time: TUESDAY });
  day.show(<HelpScreen />);
  expect(numbers()).toEqual(['tel:911', 'tel:+13125550142', 'tel:+13125550187']);
  // Below both stands the list of what to call for.
  const last = screen.getAllByRole('link').at(-1) as HTMLElement;
  expect(last.compareDocumentPosition(screen.getByRole('list')) & Node.DOCUMENT_POSITION_FOLLOWING).not.toBe(0);
  const weekend = await stage({ time: SATURDAY });
  weekend.show(<HelpScreen />);
  expect(numbers()).toEqual(['tel:911', 'tel:+13125550187', 'tel:+13125550142']);
});

test('a cold pale foot is in the list in words of its own, as a whole phrase', async () => {
  const { show } = await stage();
  show(<HelpScreen />);
  const list = screen.getByRole('list');
  expect(within(list).getByText(t('alert:help.paleFoot'))).toBeTruthy();
  expect(t('alert:help.paleFoot')).toBe('A foot that is pale or blue, and much colder than the other');
});
