import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { inflateSync } from 'node:zlib';
import puppeteer, { type Browser, type Page } from 'puppeteer-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { installedFirefox } from './browser.ts';
import { AXE, REPORTS, VIOLATIONS } from './looked-at.ts';

const executablePath = installedFirefox();
if (executablePath === null) console.warn('No Firefox here: the report is not looked at in it.');

const NAMES = ['whole', 'missed', 'hardly anything', 'pooled'] as const;

/** Pages of a PDF, by its page objects, which stand in packed streams (ISO 32000-1, 7.5.7 and 7.7.3.3). */
function pagesOf(pdf: Buffer): number {
  const text = pdf.toString('latin1');
  const streams = [...text.matchAll(/stream\r?\n([\s\S]*?)endstream/g)].map(([, packed = '']) => {
    try {
      return inflateSync(Buffer.from(packed, 'latin1')).toString('latin1');
    } catch {
      return '';
    }
  });
  return [text, ...streams].join('\n').match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
}

describe.skipIf(executablePath === null)('in Firefox', () => {
  let browser: Browser;
  const folder = mkdtempSync(join(tmpdir(), 'report-firefox-'));
  const place = (name: string): string => join(folder, `${name}.html`);

  beforeAll(async () => {
    for (const name of NAMES) writeFileSync(place(name), REPORTS[name]?.() ?? '');
    browser = await puppeteer.launch({ browser: 'firefox', executablePath: executablePath ?? '' });
  }, 120_000);
  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  });

  async function open(name: string, width: number): Promise<{ page: Page; wrong: string[] }> {
    const page = await browser.newPage();
    const wrong: string[] = [];
    page.on('console', (message) => wrong.push(message.text()));
    page.on('dialog', (dialog) => {
      wrong.push(dialog.message());
      void dialog.dismiss();
    });
    await page.setViewport({ width, height: 800 });
    await page.goto(pathToFileURL(place(name)).href);
    return { page, wrong };
  }

  const ask = async <T>(page: Page, script: string): Promise<T> => (await page.evaluate(script)) as T;

  const CASES = NAMES.flatMap((name) => [360, 1280].map((width) => [name, width] as const));
  test.each(CASES)('%s, %i pixels wide: quiet, open to all, and no wider', async (name, width) => {
    const { page, wrong } = await open(name, width);
    expect(await ask<number>(page, 'document.documentElement.scrollWidth')).toBeLessThanOrEqual(width);
    // The policy let the style in: without it the page would have another font.
    expect(await ask<string>(page, 'getComputedStyle(document.body).fontFamily')).toMatch(/^system-ui/);
    await page.evaluate(AXE);
    expect(await ask<string[]>(page, VIOLATIONS)).toEqual([]);
    expect(wrong).toEqual([]);
    await page.close();
  });

  test('what it prints at the head of every page is the number and the title', async () => {
    const { page } = await open('missed', 1280);
    expect(await page.title()).toBe("QS-0415, Cooper's Lane lot B-03, machine Plover");
    await page.close();
  });

  test('no scroll box is a tab stop that does not scroll', async () => {
    const { page } = await open('whole', 1280);
    const stops = await ask<string[]>(
      page,
      `[...document.querySelectorAll('[tabindex]')].map((one) => one.outerHTML.slice(0, 80))`,
    );
    expect(stops).toEqual([]);
    await page.close();
  });

  test.each(['A4', 'Letter'] as const)('on %s it makes a document of some pages', async (format) => {
    const { page, wrong } = await open('missed', 1280);
    const pages = pagesOf(Buffer.from(await page.pdf({ format })));
    expect(pages).toBeGreaterThanOrEqual(4);
    expect(pages).toBeLessThanOrEqual(12);
    expect(wrong).toEqual([]);
    await page.close();
  });
});
