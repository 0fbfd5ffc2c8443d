import './style/base.css';
import { render } from 'preact';
import { App } from './screens/app.tsx';
import { FatalScreen } from './screens/fatal.tsx';
import { startApp } from './screens/start.ts';
import { keepUpToDate } from './screens/update.ts';

const root = document.getElementById('app');
if (root) {
  startApp().then(
    (notebook) => {
      root.replaceChildren();
      render(<App notebook={notebook} />, root);
      keepUpToDate(notebook);
    },
    (error: unknown) => {
      root.replaceChildren();
      render(<FatalScreen error={error} />, root);
    },
  );
}
