// The screens of one case that is under way, each by its address, for measures that go over all of them. A new screen
// joins by one line.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const demo = (name) => fileURLToPath(new URL(`../../../demo/${name}.ndjson`, import.meta.url));

/** A demo case moved so that its newest entry is `ago` ms old; `only` keeps the entries up to that time into it (ms). */
export function told(name = 'relapse-unwrapping', { ago = 60_000, only = Infinity, now = Date.now() } = {}) {
  const all = readFileSync(demo(name), 'utf8').trim().split('\n').map((line) => JSON.parse(line));
  const first = Math.min(...all.map((entry) => Date.parse(entry.at)));
  const kept = all.filter((entry) => Date.parse(entry.written) - first <= only);
  const shift = now - ago - Math.max(...kept.map((entry) => Date.parse(entry.written)));
  const moved = (time) => new Date(Date.parse(time) + shift).toISOString();
  return kept.map((entry) => ({
    ...entry,
    at: moved(entry.at),
    written: moved(entry.written),
    ...(entry.birth_at ? { birth_at: moved(entry.birth_at) } : {}),
  }));
}

/** Puts entries into the page's store and opens it anew. */
export async function seed(page, entries) {
  await page.locator('main').first().waitFor();
  await page.evaluate(
    (all) =>
      new Promise((resolve) => {
        const open = indexedDB.open('stanch');
        open.onsuccess = () => {
          const tx = open.result.transaction('entries', 'readwrite');
          for (const entry of all) tx.objectStore('entries').put(entry);
          tx.oncomplete = () => resolve(open.result.close());
        };
      }),
    entries,
  );
  await page.reload();
}

/** What is open over a case: the address's last part, and the tabs to look behind. */
export const openings = [
  [''],
  ['vitals'],
  ['loss', 'Weighed'],
  ['gave', 'Womb', 'Clot', 'Fluid', 'Blood', 'Other'],
  ['did', 'Look', 'Hold', 'People', 'More'],
  ['wrap'],
  ['course'],
  ['move'],
  ['woman'],
  ['results'],
  ['urine'],
  ['readout'],
];

/** Goes to each screen, and each tab on it, and calls `look(name)`. */
export async function everyPlace(page, caseId, look) {
  const go = async (address) => {
    await page.evaluate((hash) => { location.hash = hash; }, address);
    await page.waitForTimeout(250);
  };
  await go('#/');
  await page.locator('.card-title .mark').first().waitFor();
  await page.waitForTimeout(600); // the order of cards is settled
  await look('cases');
  await go(`#/start/${caseId}`);
  await look('start');
  await go('#/link');
  await look('link');
  for (const [open, ...tabs] of openings) {
    await go(`#/case/${caseId}`);
    await page.locator('.state b').filter({ hasText: /\w/ }).waitFor();
    if (open) await go(`#/case/${caseId}/${open}`);
    await look(open || 'bedside');
    for (const tab of tabs) {
      await page.locator('.sheet').getByRole('button', { name: tab, exact: true }).first().click();
      await page.waitForTimeout(150);
      await look(`${open} ${tab}`);
    }
  }
}
