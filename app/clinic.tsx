import './style/base.css';
import './style/desk.css';
import { render } from 'preact';
import { startDesk } from './clinic/start.tsx';

const root = document.getElementById('desk');
if (root) void startDesk().then((page) => render(page, root));
