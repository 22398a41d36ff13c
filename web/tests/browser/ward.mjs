// A ward for one test: the real server on a folder of its own, and a real browser on phones of 360x640.
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { startFront } from './front.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '../../..');
export const dist = join(root, 'web/dist');
export const command = process.env.STANCH ?? join(root, 'build/release/bin/stanch');
export const phone = { width: 360, height: 640 };
export const desk = { width: 1280, height: 800 };

const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'];
export const openBrowser = (...more) => chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: [...quiet, ...more] });

export class Ward {
  static async open(...flags) {
    const ward = new Ward();
    ward.folder = mkdtempSync(join(tmpdir(), 'stanch-page-'));
    ward.flags = flags;
    ward.port = 0;
    await ward.start();
    const bare = (await fetch(`http://127.0.0.1:${ward.port}/`)).status === 404;
    if (bare) ward.front = await startFront(dist, () => ward.port);
    ward.address = `http://127.0.0.1:${ward.front?.port ?? ward.port}/`;
    return ward;
  }

  /** Starts the server, on the port it had before if it had one. */
  start() {
    this.server = spawn(command, ['serve', '--data', this.folder, '--port', String(this.port), ...this.flags]);
    return new Promise((resolve, reject) => {
      let said = '';
      const listen = (bytes) => {
        said += bytes;
        const code = /code for a new device: (\S+)/i.exec(said)?.[1];
        const port = /"port":(\d+)/.exec(said)?.[1] ?? /127\.0\.0\.1:(\d+)/.exec(said)?.[1];
        if (code && port) {
          this.code = code;
          this.port = Number(port);
          resolve();
        }
      };
      this.server.stdout.on('data', listen);
      this.server.stderr.on('data', listen);
      this.server.on('error', reject);
      this.server.on('exit', (status) => reject(new Error(`the server ended with ${status}: ${said}`)));
    });
  }

  /** As a power cut would end it. */
  kill() {
    if (this.server.signalCode !== null) return Promise.resolve();
    return new Promise((resolve) => {
      this.server.removeAllListeners('exit');
      this.server.once('exit', resolve);
      this.server.kill('SIGKILL');
    });
  }

  async close() {
    await this.kill();
    this.front?.close();
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** A phone with a store of its own, asking for pages in `locale`; `words` takes the place of that language's catalogues.
 *  `faults` gathers what the page's console complained of. */
export async function openPhone(browser, ward, { size = phone, enrol = true, theme = 'light', clock, serviceWorkers = 'block', locale, words } = {}) {
  const context = await browser.newContext({ viewport: size, hasTouch: size === phone, colorScheme: theme, serviceWorkers, locale });
  if (words)
    await context.route(/\/assets\/(ar|es|fr|hi)-[^/]*\.js$/, (route) =>
      route.fulfill({ contentType: 'text/javascript', body: `export default ${JSON.stringify(words)}` }),
    );
  const page = await context.newPage();
  page.setDefaultTimeout(8000);
  const faults = [];
  page.on('pageerror', (error) => faults.push(String(error)));
  page.on('console', (line) => {
    if (/^no words for/.test(line.text())) faults.push(line.text());
    if (line.type() === 'error' && !/Failed to load resource|ERR_/.test(line.text())) faults.push(line.text());
  });
  page.faults = faults;
  if (clock) await page.clock.install({ time: clock });
  await page.goto(ward.address + (enrol ? `#enrol=${ward.code}` : ''));
  return { context, page, faults };
}
