import './lock.css';
import { render } from 'preact';
import { realDevice } from '../../store/device.ts';
import { readFront } from '../../store/front.ts';
import { unlock } from '../../store/lock.ts';
import type { Shelf } from '../../store/shelf.ts';
import { languageFor, loadAreas, words } from '../../words/i18n.ts';
import { dressPage } from '../dress.ts';
import { LockScreen } from './lock-screen.tsx';

/**
 * Shows the locked screen in `place` and resolves once the passcode was given.
 * @param dressed resolves when the style of the house is on.
 */
export async function passGate(shelf: Shelf, place: HTMLElement, dressed: Promise<unknown>): Promise<void> {
  const front = await readFront(shelf);
  if (front.settings.language) await words.changeLanguage(languageFor([front.settings.language]));
  await loadAreas(['common', 'alert', 'lock']);
  dressPage(front.settings);
  await dressed;
  document.querySelector('.first')?.remove();
  const room = place.appendChild(document.createElement('div'));
  await new Promise<void>((opened) => {
    render(
      <LockScreen front={front} now={realDevice.now} unlock={(passcode) => unlock(shelf, passcode, realDevice.now())} onOpened={opened} />,
      room,
    );
  });
  render(null, room);
  room.remove();
}
