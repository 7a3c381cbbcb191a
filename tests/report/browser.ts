import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { type Browser, chromium } from 'playwright-core';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'];
const FIREFOX = ['firefox-esr', 'firefox'];

/** The browser that a variable names, else the first in the path; null where there is none. */
function installed(variable: string, names: readonly string[]): string | null {
  const named = process.env[variable];
  const folders = (process.env['PATH'] ?? '').split(delimiter);
  const all = folders.flatMap((folder) => names.map((name) => join(folder, name)));
  return [...(named === undefined ? [] : [named]), ...all].find((file) => existsSync(file)) ?? null;
}

/** A Chromium of this machine: the one that CHROMIUM names, else the first in the path. */
export const installedBrowser = (): string | null => installed('CHROMIUM', NAMES);

/** A Firefox of this machine: the one that FIREFOX names, else the first in the path. */
export const installedFirefox = (): string | null => installed('FIREFOX', FIREFOX);

/** Quiet: it asks for nothing on its own account. */
const ARGS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export const launch = (executablePath: string): Promise<Browser> =>
  chromium.launch({ executablePath, args: ARGS });
