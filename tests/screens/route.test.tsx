// @vitest-environment happy-dom
import { cleanup, render, screen } from '@testing-library/preact';
import { useLayoutEffect } from 'preact/hooks';
import { afterEach, expect, test } from 'vitest';
import { useRoute } from '../../app/screens/route.ts';

afterEach(cleanup);

test('an address that moves while the app starts is the one that is shown', async () => {
  // The browser tells of the move before anything of the app listens.
  const unheard = (event: Event) => event.stopImmediatePropagation();
  window.addEventListener('hashchange', unheard);
  function Starting() {
    const route = useRoute();
    useLayoutEffect(() => history.replaceState(null, '', '#/help'), []);
    return <p>at {route.join('/')}</p>;
  }
  history.replaceState(null, '', '#/today');
  render(<Starting />);
  expect(await screen.findByText('at help')).toBeTruthy();
  window.removeEventListener('hashchange', unheard);
});
