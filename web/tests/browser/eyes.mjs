// What every screen shows, in both themes: colours of notices only in notices, doses written as they must be, names that
// are the words seen, and nothing lost at twice the size.
import assert from 'node:assert/strict';
import { everyPlace, seed, told } from './places.mjs';
import { desk, openPhone } from './ward.mjs';

async function begin({ browser, ward }, options = {}) {
  const opened = await openPhone(browser, ward, { enrol: false, ...options });
  const entries = told('relapse-unwrapping', { only: 3 * 3_600_000 });
  await seed(opened.page, entries);
  return { ...opened, id: entries[0].case };
}

/** Pixels of the picture, outside the notices' boxes, that are strongly red, yellow or cyan. */
function strays(probe, picture, boxes) {
  return probe.evaluate(
    async ([data, notices]) => {
      const bytes = Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0));
      const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
      const canvas = new OffscreenCanvas(bitmap.width, bitmap.height).getContext('2d');
      canvas.drawImage(bitmap, 0, 0);
      const { data: rgba, width } = canvas.getImageData(0, 0, bitmap.width, bitmap.height);
      const out = {};
      for (let i = 0; i < rgba.length; i += 4) {
        const [red, green, blue] = [rgba[i], rgba[i + 1], rgba[i + 2]];
        const top = Math.max(red, green, blue);
        const spread = top - Math.min(red, green, blue);
        if (top < 90 || spread < 0.45 * top) continue;
        const hue =
          60 * (top === red ? ((green - blue) / spread + 6) % 6 : top === green ? (blue - red) / spread + 2 : (red - green) / spread + 4);
        const name = hue < 20 || hue > 340 ? 'red' : hue > 40 && hue < 70 ? 'yellow' : hue > 172 && hue < 200 ? 'cyan' : undefined;
        if (name === undefined) continue;
        const [x, y] = [(i / 4) % width, Math.floor(i / 4 / width)];
        if (notices.some((box) => x >= box.x - 1 && x <= box.x + box.width + 1 && y >= box.y - 1 && y <= box.y + box.height + 1)) out.inside = (out.inside ?? 0) + 1;
        else out[name] = (out[name] ?? 0) + 1;
      }
      return out;
    },
    [picture.toString('base64'), boxes],
  );
}

async function colours(given, theme) {
  const { page, context, id } = await begin(given, { theme });
  const probe = await context.newPage();
  await probe.goto('about:blank');
  let inside = 0;
  await everyPlace(page, id, async (name) => {
    const boxes = await page.evaluate(() =>
      [...document.querySelectorAll('.high, .medium, .low')].map((box) => {
        const { x, y, width, height } = box.getBoundingClientRect();
        return { x, y, width, height };
      }).filter((box) => box.width > 0 && box.height <= 96),
    );
    const found = await strays(probe, await page.screenshot(), boxes);
    inside += found.inside ?? 0;
    delete found.inside;
    assert.deepEqual(found, {}, `${name}: pixels of a notice's colour outside notices`);
  });
  assert.ok(inside > 100, 'the probe sees the colours where they belong');
  await context.close();
}

async function wordsAndDoses(given) {
  const { page, context, id } = await begin(given);
  await everyPlace(page, id, async (name) => {
    const text = await page.evaluate(() => document.body.innerText);
    assert.doesNotMatch(text, /(^|[^\d.,])\.\d/m, `${name}: a number that begins with its point`);
    assert.doesNotMatch(text, /\d\.(\d*)0\s?(mg|micrograms|g|mL|L|units|international)\b/, `${name}: a dose that ends in a nought after the point`);
    const differ = await page.evaluate(() =>
      [...document.querySelectorAll('button[aria-label]')]
        .filter((key) => key.checkVisibility({ visibilityProperty: true }) && /\p{L}/u.test(key.innerText))
        .filter((key) => !key.ariaLabel.replace(/\s+/g, ' ').toLowerCase().includes(key.innerText.replace(/^‹/, '').replace(/✓.*$/s, '').replace(/\s+/g, ' ').trim().toLowerCase()))
        .map((key) => `${key.innerText} is called ${key.ariaLabel}`),
    );
    assert.deepEqual(differ, [], `${name}: the name is the words seen`);
  });
  await context.close();
}

// A desk's page of 1280x800 at 200 %.
async function enlarged(given) {
  const [width, height] = [desk.width / 2, desk.height / 2];
  const { page, context, id } = await begin(given, { size: { width, height } });
  await everyPlace(page, id, async (name) => {
    const lost = await page.evaluate(() => {
      const out = [];
      for (const box of [document.documentElement, ...document.querySelectorAll('.scroll, .past, .due-box, .sheet')])
        if (box.scrollWidth > box.clientWidth + 1 && box.checkVisibility()) out.push(`${box.className || 'page'} scrolls sideways: ${box.scrollWidth} in ${box.clientWidth}`);
      for (const key of document.querySelectorAll('.sheet button, .pads button, .ways button, .plain button')) {
        if (!key.checkVisibility({ visibilityProperty: true }) || (key.closest('.bedside') && document.querySelector('.sheet'))) continue;
        key.scrollIntoView({ block: 'nearest' });
        const box = key.getBoundingClientRect();
        if (box.left < -1 || box.right > innerWidth + 1 || box.top < -1 || box.bottom > innerHeight + 1) out.push(`${key.textContent} cannot be brought into view`);
        if (key.scrollWidth > key.clientWidth + 1) out.push(`${key.textContent} is cut off: ${key.scrollWidth} in ${key.clientWidth}`);
      }
      return out;
    });
    assert.deepEqual(lost, [], name);
  });
  await context.close();
}

export const tests = [
  ['notice colours only in notices, by day', (given) => colours(given, 'light')],
  ['notice colours only in notices, by night', (given) => colours(given, 'dark')],
  ['doses and names as they must be', wordsAndDoses],
  ['nothing is lost at 200 %', enlarged],
];
