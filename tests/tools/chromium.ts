import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chromium } from '@playwright/test';

/** Flags for a quiet, offline Chromium that also runs as root in a container. */
export const CHROMIUM_FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

const USUAL_PLACES = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/snap/bin/chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
];

/** The path of a Chromium on this machine, or undefined. `CHROMIUM` in the environment wins. */
export function findChromium(): string | undefined {
  const places = [process.env.CHROMIUM, ...USUAL_PLACES, chromium.executablePath()];
  return places.find((place) => place !== undefined && place !== '' && existsSync(place));
}

const run = (command: string, args: string[]): boolean =>
  spawnSync(command, args, { stdio: 'inherit', env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } }).status === 0;

/** Finds a Chromium or installs one: from Debian's packages as root, else with Playwright's own installer. */
export function ensureChromium(): string | undefined {
  const found = findChromium();
  if (found) return found;
  const isRoot = process.getuid?.() === 0;
  if (isRoot && existsSync('/usr/bin/apt-get')) {
    console.log('No Chromium found. Installing the package "chromium" …');
    run('apt-get', ['update', '-q']);
    run('apt-get', ['install', '-y', '-q', 'chromium']);
  }
  if (!findChromium()) {
    console.log('Trying to install the Chromium that comes with Playwright …');
    run(process.execPath, ['node_modules/@playwright/test/cli.js', 'install', 'chromium']);
  }
  return findChromium();
}

export const NO_CHROMIUM =
  'The browser tests need a Chromium and none could be found or installed. Install Chromium or Chrome, or set CHROMIUM=/path/to/chromium, then run npm test again.';
