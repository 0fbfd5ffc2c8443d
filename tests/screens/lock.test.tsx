// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen } from '@testing-library/preact';
import { userEvent } from '@testing-library/user-event';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { lockWhenIdle } from '../../app/screens/lock/auto-lock.ts';
import { LockScreen } from '../../app/screens/lock/lock-screen.tsx';
import { PasscodeScreen } from '../../app/screens/lock/passcode.tsx';
import type { Front } from '../../app/store/front.ts';
import { readLock, setLockOptions, setPasscode, type Unlocking } from '../../app/store/lock.ts';
import { storedLock } from '../../app/store/shelf.ts';
import { AREAS, loadAreas, words } from '../../app/words/i18n.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { newShelf } from '../store/phone.ts';
import { stage } from './stage.tsx';

beforeEach(async () => {
  await words.changeLanguage('en');
  await loadAreas(AREAS);
});
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

const front = (part: Partial<Front> = {}): Front => ({
  settings: { language: 'en', scheme: 'auto', textSize: 'normal', region: 'US', readAloud: false, wideNext: false },
  clinics: [demoPlan().clinic],
  ...part,
});
const NOW = Date.parse('2031-03-04T15:00:00Z');

function show(unlock: (code: string) => Promise<Unlocking>, part: Partial<Front> = {}) {
  const opened = vi.fn();
  render(<LockScreen front={front(part)} now={() => NOW} unlock={unlock} onOpened={opened} />);
  return { opened, user: userEvent.setup() };
}

describe('the locked screen', () => {
  it('opens with the passcode, and Enter is enough', async () => {
    const { opened, user } = show(async (code) => (code === 'seven swans' ? { opened: true } : { opened: false, why: 'wrong', wrong: 1 }));
    await user.type(screen.getByLabelText('Passcode'), 'six swans{Enter}');
    expect((await screen.findByRole('alert')).textContent).toBe('This is not the passcode. Look at what you typed, then try again.');
    expect(opened).not.toHaveBeenCalled();
    await user.type(screen.getByLabelText('Passcode'), 'seven swans{Enter}');
    await expect.poll(() => opened.mock.calls.length).toBe(1);
  });

  it('shows what is typed only when asked', async () => {
    const { user } = show(async () => ({ opened: true }));
    expect(screen.getByLabelText('Passcode').getAttribute('type')).toBe('password');
    await user.click(screen.getByLabelText('Show what I type'));
    expect(screen.getByLabelText('Passcode').getAttribute('type')).toBe('text');
  });

  it('says how long to wait after many wrong tries', async () => {
    const { user } = show(async () => ({ opened: false, why: 'wait', waitMs: 30_000 }));
    await user.type(screen.getByLabelText('Passcode'), 'seven swans{Enter}');
    expect((await screen.findByRole('alert')).textContent).toBe('Too many wrong tries. Wait 30 seconds.');
    expect(screen.getByRole('button', { name: 'Open my book' })).toHaveProperty('disabled', true);
  });

  it('keeps emergency help and the clinic one tap away, and says when a call is open', () => {
    show(async () => ({ opened: true }), { openAlert: 'callNow' });
    const { clinic } = demoPlan();
    expect(screen.getByRole('link', { name: /emergency number/ }).getAttribute('href')).toBe(`tel:${clinic.emergencyNumber ?? '911'}`);
    expect(screen.getByRole('link', { name: /Call the clinic/ })).toBeTruthy();
    expect(screen.getByText('A call may still be open. Open your book, or call now.')).toBeTruthy();
  });

  const isBefore = (a: HTMLElement, b: HTMLElement) => (a.compareDocumentPosition(b) & Node.DOCUMENT_POSITION_FOLLOWING) !== 0;
  const [emergency, clinicCall, field] = [
    () => screen.getByRole('link', { name: /emergency number/ }),
    () => screen.getByRole('link', { name: /Call the clinic/ }),
    () => screen.getByLabelText('Passcode'),
  ];

  it.each([
    ['emergency', true, false],
    ['callNow', true, true],
    ['callToday', true, true],
    [undefined, false, false],
  ] as const)('with an open alert of %s, whom to call stands before the passcode', (openAlert, emergencyFirst, clinicFirst) => {
    show(async () => ({ opened: true }), openAlert ? { openAlert } : {});
    expect([isBefore(emergency(), field()), isBefore(clinicCall(), field())]).toEqual([emergencyFirst, clinicFirst]);
  });

  it('after a wrong passcode the cursor is back in its field', async () => {
    const { user } = show(async () => ({ opened: false, why: 'wrong', wrong: 1 }));
    await user.type(field(), 'six swans');
    await user.click(screen.getByRole('button', { name: 'Open my book' }));
    await screen.findByRole('alert');
    expect(document.activeElement).toBe(field());
  });

  it('without a clinic it still has the emergency number of the region', () => {
    show(async () => ({ opened: true }), {
      clinics: [],
      settings: { language: 'en', scheme: 'auto', textSize: 'normal', region: 'GB', readAloud: false, wideNext: false },
    });
    expect(screen.getByRole('link', { name: /emergency number/ }).getAttribute('href')).toBe('tel:999');
  });

  it('a forgotten passcode: says what is lost, and erases only after it was meant', async () => {
    const { user } = show(async () => ({ opened: true }));
    await user.click(screen.getByRole('button', { name: 'I forgot my passcode' }));
    expect(screen.getByText('With no copy, the log is lost. Tell your clinic, and ask for the plan again.')).toBeTruthy();
    expect(emergency()).toBeTruthy();
    expect(clinicCall()).toBeTruthy();
    await user.click(screen.getByRole('button', { name: 'Erase everything' }));
    expect(screen.getByRole('button', { name: 'Erase everything now' })).toHaveProperty('disabled', true);
    await user.click(screen.getByLabelText('Yes, I want to lose all this'));
    expect(screen.getByRole('button', { name: 'Erase everything now' })).toHaveProperty('disabled', false);
  });
});

describe('setting a passcode', () => {
  it('asks twice, says what is wrong, and warns that nobody can help who forgets it', async () => {
    const s = await stage();
    s.show(<PasscodeScreen />);
    await s.user.click(await screen.findByRole('button', { name: 'Set a passcode' }));
    expect(screen.getByText('No one can open the book without the passcode. Not your clinic, not us.')).toBeTruthy();
    await s.user.type(screen.getByLabelText('New passcode'), '12345');
    await s.user.click(screen.getByRole('button', { name: 'Set a passcode' }));
    expect(screen.getByRole('alert').textContent).toBe('This is too short. Add more letters or digits.');
    await s.user.type(screen.getByLabelText('New passcode'), '6789');
    await s.user.type(screen.getByLabelText('The new passcode again'), '12345678');
    await s.user.click(screen.getByRole('button', { name: 'Set a passcode' }));
    expect(screen.getByRole('alert').textContent).toBe('The two are not the same. Type it once more.');
    expect(await storedLock(s.notebook.shelf)).toBeUndefined();
    await s.user.type(screen.getByLabelText('The new passcode again'), '9');
    await s.user.click(screen.getByRole('button', { name: 'Set a passcode' }));
    expect((await screen.findByText('The passcode is set. All is locked with it.', {}, { timeout: 5000 })).textContent).toBeTruthy();
    const lock = readLock(await storedLock(s.notebook.shelf));
    expect(lock?.state).toBe('on');
    // Erasing after wrong tries is off unless chosen.
    expect(lock?.eraseAfter).toBeUndefined();
  });
});

describe('locking by itself', () => {
  it('happens after the chosen minutes without use, not before, and use starts the time anew', async () => {
    const shelf = newShelf();
    await setPasscode(shelf, 'seven swans', 'lock-1', 1000);
    await setLockOptions(shelf, { after: 1 });
    let now = NOW;
    const restart = vi.fn();
    const stop = lockWhenIdle(shelf, () => now, restart);
    const look = async () => {
      document.dispatchEvent(new Event('visibilitychange'));
      await new Promise((done) => setTimeout(done, 20));
    };
    now += 50_000;
    await look();
    fireEvent.keyDown(window, { key: 'a' });
    now += 50_000;
    await look();
    expect(restart).not.toHaveBeenCalled();
    // The clock is set back an hour: the time starts anew.
    now -= 3_600_000;
    await look();
    now += 30_000;
    await look();
    expect(restart).not.toHaveBeenCalled();
    now += 30_000;
    await look();
    expect(restart).toHaveBeenCalledOnce();
    stop();
  });
});
