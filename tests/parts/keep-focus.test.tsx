// @vitest-environment happy-dom
import { cleanup, render, screen, waitFor } from '@testing-library/preact';
import { userEvent } from '@testing-library/user-event';
import { useState } from 'preact/hooks';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { keepFocus } from '../../app/parts/keep-focus.ts';

beforeAll(() => keepFocus());
afterEach(cleanup);
const user = userEvent.setup();
const button = (name: string) => screen.getByRole('button', { name });
const focused = (place: () => Element) => waitFor(() => expect(document.activeElement).toBe(place()));

/** A list whose rows can be taken away and moved up. */
function Rows() {
  const [rows, setRows] = useState(['a', 'b', 'c']);
  return (
    <ul>
      {rows.map((row, i) => (
        <li key={row}>
          <button type="button" onClick={() => setRows(rows.filter((r) => r !== row))}>
            drop {row}
          </button>
          <button type="button" onClick={() => setRows([...rows.slice(0, i - 1), row, rows[i - 1] as string, ...rows.slice(i + 1)])}>
            up {row}
          </button>
        </li>
      ))}
    </ul>
  );
}

test('a row that goes leaves the focus with the row after it, the last one with the row before', async () => {
  render(<Rows />);
  await user.click(button('drop b'));
  await focused(() => button('drop c'));
  await user.click(button('drop c'));
  await focused(() => button('up a'));
});

test('a row that moves takes the focus with it', async () => {
  render(<Rows />);
  await user.click(button('up c'));
  await focused(() => button('up c'));
  expect(screen.getAllByRole('button').map((b) => b.textContent)[2]).toBe('drop c');
});

test('what comes in place of a button is gone on with', async () => {
  function Opens() {
    const [open, setOpen] = useState(false);
    return (
      <main>
        {open ? (
          <textarea aria-label="How" />
        ) : (
          <button type="button" onClick={() => setOpen(true)}>
            differently
          </button>
        )}
        <button type="button">stop</button>
      </main>
    );
  }
  render(<Opens />);
  await user.click(button('differently'));
  await focused(() => screen.getByRole('textbox'));
});

test('a heading that came can be read on from', async () => {
  function Turns() {
    const [turned, setTurned] = useState(false);
    return turned ? (
      <main key="felt">
        <h2>Do you feel hot?</h2>
        <button type="button">yes</button>
      </main>
    ) : (
      <main key="measured">
        <button type="button" onClick={() => setTurned(true)}>
          no thermometer
        </button>
      </main>
    );
  }
  render(<Turns />);
  await user.click(button('no thermometer'));
  await focused(() => screen.getByRole('heading'));
});

test('a field that is wrong comes before all else', async () => {
  function Unlock() {
    const [wrong, setWrong] = useState(false);
    return (
      <form>
        <input type="text" aria-label="Passcode" aria-invalid={wrong || undefined} />
        {!wrong && (
          <button type="button" onClick={() => setWrong(true)}>
            open
          </button>
        )}
        <a href="#help">help</a>
      </form>
    );
  }
  render(<Unlock />);
  await user.click(button('open'));
  await focused(() => screen.getByRole('textbox'));
});

test('where a page takes the focus itself, it is left there', async () => {
  function Pages() {
    const [at, setAt] = useState(0);
    return at === 0 ? (
      <main key="0">
        <button
          type="button"
          onClick={() => {
            setAt(1);
            setTimeout(() => screen.getByRole('heading').focus(), 20);
          }}
        >
          next
        </button>
      </main>
    ) : (
      <main key="1">
        <a href="#a">first</a>
        <h1 tabIndex={-1}>Next page</h1>
      </main>
    );
  }
  render(<Pages />);
  await user.click(button('next'));
  await focused(() => screen.getByRole('heading'));
  await new Promise((resolve) => setTimeout(resolve, 200));
  expect(document.activeElement).toBe(screen.getByRole('heading'));
});
