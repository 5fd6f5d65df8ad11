// Screenshots, to look at; that there is a figure in them is tested.
import assert from 'node:assert/strict';
import { join } from 'node:path';

export async function run({ it, shots, test, name }) {
  const { page } = it;
  for (const colorScheme of ['light', 'dark']) {
    await test(`picture of the page, ${name}, ${colorScheme}`, async () => {
      await page.emulateMedia({ colorScheme });
      await page.evaluate(() => scrollTo(0, 0));
      await it.drawn();
      await page.screenshot({ path: join(shots, `${name}-${colorScheme}.png`) });
      const shot = await page.locator('#stage').screenshot();
      assert.ok((await coloursIn(page, shot)) > 200, 'a shaded figure has many colours');
    });
  }
}

// coloursIn counts the colours of a picture.
function coloursIn(page, png) {
  return page.evaluate(async (data) => {
    const image = await createImageBitmap(new Blob([Uint8Array.from(atob(data), (c) => c.charCodeAt(0))]));
    const canvas = new OffscreenCanvas(image.width, image.height).getContext('2d');
    canvas.drawImage(image, 0, 0);
    const { data: pixels } = canvas.getImageData(0, 0, image.width, image.height);
    return new Set(new Uint32Array(pixels.buffer)).size;
  }, png.toString('base64'));
}
