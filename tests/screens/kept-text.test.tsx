// @vitest-environment happy-dom
import { cleanup, screen } from '@testing-library/preact';
import { keys } from 'idb-keyval';
import { afterEach, describe, expect, it } from 'vitest';
import { NoteScreen } from '../../app/screens/log/correct.tsx';
import { stage } from './stage.tsx';

afterEach(cleanup);

describe('words being typed', () => {
  it('are there again when the page comes back, and gone from the drafts once they are saved', async () => {
    const s = await stage();
    s.show(<NoteScreen />);
    await s.user.type(screen.getByLabelText('Your note'), 'May I shower?');
    await expect.poll(async () => (await keys(s.notebook.shelf.book)).filter((k) => String(k).includes(':text-note'))).toHaveLength(1);
    s.show(<NoteScreen />);
    await expect.poll(() => (screen.getByLabelText('Your note') as HTMLTextAreaElement).value).toBe('May I shower?');
    await s.user.click(screen.getByRole('button', { name: 'Save' }));
    await expect.poll(() => s.written('note').map((n) => n.text)).toEqual(['May I shower?']);
    await expect.poll(async () => (await keys(s.notebook.shelf.book)).filter((k) => String(k).includes(':text-'))).toEqual([]);
  });

  it('typed before the kept ones were read are not written over', async () => {
    const s = await stage();
    s.show(<NoteScreen />);
    await s.user.type(screen.getByLabelText('Your note'), 'old');
    s.show(<NoteScreen />);
    const field = screen.getByLabelText('Your note') as HTMLTextAreaElement;
    field.value = 'new';
    field.dispatchEvent(new Event('input', { bubbles: true }));
    await new Promise((done) => setTimeout(done, 30));
    expect((screen.getByLabelText('Your note') as HTMLTextAreaElement).value).toBe('new');
  });
});
