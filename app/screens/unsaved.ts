import { loadAreas, t } from '../words/i18n.ts';

/** Says that something could not be stored, where no screen says so itself. */
export async function sayNotSaved(): Promise<void> {
  if (document.getElementById('unsaved')) return;
  await loadAreas(['common']);
  const bar = document.createElement('div');
  bar.id = 'unsaved';
  bar.className = 'update';
  bar.setAttribute('role', 'alert');
  const text = document.createElement('p');
  text.textContent = t('common:notSaved');
  const close = document.createElement('button');
  close.type = 'button';
  close.className = 'button button-main';
  close.textContent = t('common:done');
  close.onclick = () => bar.remove();
  bar.append(text, close);
  document.body.append(bar);
}
