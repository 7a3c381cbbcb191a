import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { installedBrowser, launch } from './browser.ts';
import { AXE, REPORTS, VIOLATIONS } from './looked-at.ts';

const executable = installedBrowser();
if (executable === null) console.warn('No Chromium here: the report is not looked at in a browser.');

const SCREENS = [
  { name: 'telephone', width: 360, height: 780, dark: false },
  { name: 'laptop', width: 1280, height: 800, dark: true },
  { name: 'laptop', width: 1280, height: 800, dark: false },
] as const;

describe.skipIf(executable === null)('in a browser', () => {
  let browser: Browser;
  const folder = mkdtempSync(join(tmpdir(), 'report-'));
  const place = (name: string): string => join(folder, `${name}.html`);

  beforeAll(async () => {
    for (const [name, make] of Object.entries(REPORTS)) writeFileSync(place(name), make());
    browser = await launch(executable ?? '');
  });
  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  });

  /** The page of a report, with everything it says or asks for that it should not. */
  async function open(name: string, screen: { width: number; height: number }, dark = false) {
    const page = await browser.newPage({ viewport: screen, colorScheme: dark ? 'dark' : 'light' });
    const wrong: string[] = [];
    page.on('console', (message) => wrong.push(`console: ${message.text()}`));
    page.on('pageerror', (error) => wrong.push(`error: ${error.message}`));
    page.on('dialog', (dialog) => {
      wrong.push(`dialog: ${dialog.message()}`);
      void dialog.dismiss();
    });
    page.on('request', (request) => {
      const url = request.url();
      if (!url.startsWith('data:') && url !== pathToFileURL(place(name)).href) wrong.push(`request: ${url}`);
    });
    await page.goto(pathToFileURL(place(name)).href);
    return { page, wrong };
  }

  const ask = async <T>(page: Page, script: string): Promise<T> => await page.evaluate(script);

  for (const name of Object.keys(REPORTS)) {
    // All three for the fullest report; the others light and small, dark and wide.
    for (const screen of SCREENS.slice(0, name === 'whole' ? 3 : 2)) {
      test(`${name}, ${screen.name}, ${screen.dark ? 'dark' : 'light'}: quiet, open to all, and no wider than the screen`, async () => {
        const { page, wrong } = await open(name, screen, screen.dark);
        await ask(page, AXE);
        expect(await ask<string[]>(page, VIOLATIONS)).toEqual([]);
        expect(await ask<number>(page, 'document.documentElement.scrollWidth')).toBeLessThanOrEqual(
          screen.width,
        );
        expect(await ask<number>(page, 'document.scripts.length')).toBe(0);
        // The policy let the style in: without it the page would have another font.
        expect(await ask<string>(page, 'getComputedStyle(document.body).fontFamily')).toMatch(/^system-ui/);
        expect(wrong).toEqual([]);
        await page.close();
      });
    }
  }

  test('the photos are there', async () => {
    const { page } = await open('whole', SCREENS[1]);
    const widths = await ask<number[]>(page, '[...document.images].map((image) => image.naturalWidth)');
    expect(widths).toEqual([400, 400]);
    await page.close();
  });

  /** Pages of a PDF, by its page objects (ISO 32000-1, 7.7.3.3). */
  const pagesOf = (pdf: Buffer): number =>
    pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;

  // Fonts differ from machine to machine, and with them what a page takes.
  test.each([
    ['whole', 'A4', 12, 20],
    ['whole', 'Letter', 12, 21],
    ['smallest', 'A4', 3, 6],
    ['smallest', 'Letter', 3, 6],
    ['pooled', 'A4', 3, 6],
  ] as const)('%s on %s has the expected pages', async (name, format, least, most) => {
    const { page, wrong } = await open(name, SCREENS[1]);
    const pages = pagesOf(await page.pdf({ format }));
    expect(pages).toBeGreaterThanOrEqual(least);
    expect(pages).toBeLessThanOrEqual(most);
    expect(wrong).toEqual([]);
    await page.close();
  });

  test.each(Object.keys(REPORTS))(
    '%s on paper: no picture or table is wider or, unless it may be cut, higher than a page',
    async (name) => {
      // Letter is the lower of the two sizes, A4 the narrower: what the margins leave of each, at 96 to the inch.
      const [wide, high] = [Math.floor(((210 - 32) / 25.4) * 96), Math.floor(11 * 96 - (36 / 25.4) * 96)];
      const { page } = await open(name, { width: wide, height: high });
      await page.emulateMedia({ media: 'print' });
      const sizes = await ask<{ what: string; width: number; height: number }[]>(
        page,
        `[...document.querySelectorAll('figure, table, .headline, .formula')].map((one) => ({
        what: one.className + ' ' + one.textContent.slice(0, 40),
        width: one.scrollWidth,
        height: one.matches('.long') ? 0 : one.offsetHeight,
      }))`,
      );
      for (const { what, width, height } of sizes) {
        expect(width, what).toBeLessThanOrEqual(wide);
        expect(height, what).toBeLessThanOrEqual(high);
      }
      await page.close();
    },
  );
});
