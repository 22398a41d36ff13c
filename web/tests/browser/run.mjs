// Runs the browser suite. Usage: node tests/browser/run.mjs [WORD]   (only tests whose name has the word)
import { Ward, openBrowser } from './ward.mjs';

const word = process.argv[2] ?? '';
const files = ['walk', 'start', 'readout', 'correct', 'keep', 'sync', 'slip', 'lang', 'access', 'fingers', 'eyes', 'budgets'];
let passed = 0;
const failed = [];
const browser = await openBrowser();
for (const file of files) {
  const { tests } = await import(`./${file}.mjs`).catch((error) => {
    if (error.code === 'ERR_MODULE_NOT_FOUND' && word !== '') return { tests: [] };
    throw error;
  });
  for (const [name, test, ...flags] of tests) {
    if (!`${file} ${name}`.includes(word)) continue;
    const ward = await Ward.open(...flags);
    try {
      await test({ browser, ward });
      passed += 1;
      console.log(`ok    ${file}: ${name}`);
    } catch (error) {
      failed.push(name);
      console.log(`FAIL  ${file}: ${name}\n${error.stack ?? error}`);
      for (const context of browser.contexts()) {
        for (const page of context.pages()) {
          for (const fault of page.faults ?? []) console.log(`      the page said: ${fault}`);
          await page.screenshot({ path: `${process.env.SHOTS ?? '.'}/failed-${file}-${failed.length}.png` }).catch(() => {});
        }
        await context.close();
      }
    } finally {
      await ward.close();
    }
  }
}
await browser.close();
console.log(`${passed} passed, ${failed.length} failed`);
process.exit(failed.length === 0 ? 0 : 1);
