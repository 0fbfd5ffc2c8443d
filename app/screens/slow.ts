import { orEnglish } from './fatal.tsx';

const TEXT =
  'This is taking long. Is Tendbook open in another window? Close that window. If the internet is slow, wait a little, then try again.';

/** Says below the first words why nothing comes, what to do, and leaves the numbers to call where they stand. */
export function sayItIsSlow(root: HTMLElement): void {
  if (document.getElementById('slow')) return;
  const first = document.querySelector('.first') ?? root.appendChild(document.createElement('main'));
  first.classList.add('first');
  const box = document.createElement('div');
  box.id = 'slow';
  box.setAttribute('role', 'alert');
  const text = document.createElement('p');
  text.textContent = orEnglish('common:slow', TEXT);
  const again = document.createElement('button');
  again.type = 'button';
  again.className = 'button button-main';
  again.textContent = orEnglish('common:fatal.again', 'Try again');
  again.onclick = () => location.reload();
  box.append(text, again);
  first.append(box);
}
